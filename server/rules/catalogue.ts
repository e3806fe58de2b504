/** Every rule, one file each, in the order of their codes. Made from the folder: `npm run generate`. */
import { acceptedNothing } from './accepted-nothing';
import { acceptedWithoutReason } from './accepted-without-reason';
import { acidShort } from './acid-short';
import { afterAboveBefore } from './after-above-before';
import { assayArithmetic } from './assay-arithmetic';
import { assaysDisagree } from './assays-disagree';
import { beadUnfinished } from './bead-unfinished';
import { belowMinimum } from './below-minimum';
import { beyondFurnace } from './beyond-furnace';
import { billDiffers } from './bill-differs';
import { byProductsGuessed } from './by-products-guessed';
import { claimAgainstAssay } from './claim-against-assay';
import { commaList } from './comma-list';
import { compositionAboveWhole } from './composition-above-whole';
import { correctionAmiss } from './correction-amiss';
import { correctionWithoutReason } from './correction-without-reason';
import { crucibleOverfull } from './crucible-overfull';
import { crucibleWorn } from './crucible-worn';
import { cupelNearlyFull } from './cupel-nearly-full';
import { cupelOverloaded } from './cupel-overloaded';
import { cupelTooCold } from './cupel-too-cold';
import { cupelTooHot } from './cupel-too-hot';
import { dayGoesBack } from './day-goes-back';
import { decimalComma } from './decimal-comma';
import { densityAgainstAssay } from './density-against-assay';
import { discardedUntested } from './discarded-untested';
import { fileChanged } from './file-changed';
import { fileMissing } from './file-missing';
import { fineGained } from './fine-gained';
import { fineLossAboveEarlier } from './fine-loss-above-earlier';
import { fineMissing } from './fine-missing';
import { finerThanScale } from './finer-than-scale';
import { givenBackShort } from './given-back-short';
import { givenBackTooMuch } from './given-back-too-much';
import { heavierThanItsMetal } from './heavier-than-its-metal';
import { hiddenCharacter } from './hidden-character';
import { hiddenInText } from './hidden-in-text';
import { impossibleDate } from './impossible-date';
import { impossibleDensity } from './impossible-density';
import { impossibleTime } from './impossible-time';
import { leadShort } from './lead-short';
import { looseLine } from './loose-line';
import { lossAboveUsual } from './loss-above-usual';
import { lossCreeping } from './loss-creeping';
import { lotAdded } from './lot-added';
import { lotBeforeMade } from './lot-before-made';
import { lotOnHold } from './lot-on-hold';
import { lotUsedUp } from './lot-used-up';
import { mercuryToFire } from './mercury-to-fire';
import { mergeMarker } from './merge-marker';
import { metalGained } from './metal-gained';
import { metalMissing } from './metal-missing';
import { misplacedDetail } from './misplaced-detail';
import { missingIndent } from './missing-indent';
import { missingPart } from './missing-part';
import { missingUnit } from './missing-unit';
import { mixedWeighings } from './mixed-weighings';
import { moreOutThanIn } from './more-out-than-in';
import { moreThanLeft } from './more-than-left';
import { mouldTooSmall } from './mould-too-small';
import { nameNeedsQuotes } from './name-needs-quotes';
import { nameUsedTwice } from './name-used-twice';
import { nearName } from './near-name';
import { niterWithFuel } from './niter-with-fuel';
import { noMetalToCupel } from './no-metal-to-cupel';
import { noSuchDegree } from './no-such-degree';
import { notCounted } from './not-counted';
import { notInWorkshop } from './not-in-workshop';
import { notOursToSell } from './not-ours-to-sell';
import { notSettled } from './not-settled';
import { nothingWeighed } from './nothing-weighed';
import { oddCharacter } from './odd-character';
import { oddNumber } from './odd-number';
import { offTarget } from './off-target';
import { offerBelowTerms } from './offer-below-terms';
import { offerTotal } from './offer-total';
import { orderByPage } from './order-by-page';
import { ownersMixed } from './owners-mixed';
import { paidBeforeShipped } from './paid-before-shipped';
import { partsAgainstShares } from './parts-against-shares';
import { plansInACircle } from './plans-in-a-circle';
import { pourTooCold } from './pour-too-cold';
import { pourTooHot } from './pour-too-hot';
import { precipitantShort } from './precipitant-short';
import { priceApart } from './price-apart';
import { priceMissing } from './price-missing';
import { priceOld } from './price-old';
import { priceUnit } from './price-unit';
import { productNotWeighed } from './product-not-weighed';
import { ratioTooLow } from './ratio-too-low';
import { refiningNotWorth } from './refining-not-worth';
import { returnedDiffers } from './returned-differs';
import type { Rule } from './rule';
import { runOn } from './run-on';
import { sampleOverdue } from './sample-overdue';
import { scaleDrifts } from './scale-drifts';
import { scaleOff } from './scale-off';
import { scaleOverloaded } from './scale-overloaded';
import { scaleTooCoarse } from './scale-too-coarse';
import { sealBroken } from './seal-broken';
import { sealWithoutDigest } from './seal-without-digest';
import { settledAndBack } from './settled-and-back';
import { settledAssay } from './settled-assay';
import { settledBelowOffer } from './settled-below-offer';
import { settledByAnother } from './settled-by-another';
import { settledPrice } from './settled-price';
import { settledTerms } from './settled-terms';
import { settledTotal } from './settled-total';
import { settledTwice } from './settled-twice';
import { settledWeight } from './settled-weight';
import { shelfMetalGiven } from './shelf-metal-given';
import { silverUnpaid } from './silver-unpaid';
import { slagStiff } from './slag-stiff';
import { slagTooAcid } from './slag-too-acid';
import { slagTooBasic } from './slag-too-basic';
import { soldUnassayed } from './sold-unassayed';
import { spoilsCupel } from './spoils-cupel';
import { spoilsParting } from './spoils-parting';
import { strayPart } from './stray-part';
import { sulphurLeft } from './sulphur-left';
import { suspectReading } from './suspect-reading';
import { swallowedDetail } from './swallowed-detail';
import { tareAboveGross } from './tare-above-gross';
import { targetOutOfReach } from './target-out-of-reach';
import { termsMissing } from './terms-missing';
import { thousandsMark } from './thousands-mark';
import { timeGoesBack } from './time-goes-back';
import { tooQuick } from './too-quick';
import { unclosedQuote } from './unclosed-quote';
import { unknownLot } from './unknown-lot';
import { unknownMaterial } from './unknown-material';
import { unknownMeasure } from './unknown-measure';
import { unknownUnit } from './unknown-unit';
import { unknownVerb } from './unknown-verb';
import { unknownWord } from './unknown-word';
import { weightChanged } from './weight-changed';
import { weightsOutOfOrder } from './weights-out-of-order';
import { whichUnit } from './which-unit';
import { witnessIsHand } from './witness-is-hand';
import { wrongUnit } from './wrong-unit';

export const RULES: readonly Rule[] = [
  acceptedNothing,
  acceptedWithoutReason,
  acidShort,
  afterAboveBefore,
  assayArithmetic,
  assaysDisagree,
  beadUnfinished,
  belowMinimum,
  beyondFurnace,
  billDiffers,
  byProductsGuessed,
  claimAgainstAssay,
  commaList,
  compositionAboveWhole,
  correctionAmiss,
  correctionWithoutReason,
  crucibleOverfull,
  crucibleWorn,
  cupelNearlyFull,
  cupelOverloaded,
  cupelTooCold,
  cupelTooHot,
  dayGoesBack,
  decimalComma,
  densityAgainstAssay,
  discardedUntested,
  fileChanged,
  fileMissing,
  fineGained,
  fineLossAboveEarlier,
  fineMissing,
  finerThanScale,
  givenBackShort,
  givenBackTooMuch,
  heavierThanItsMetal,
  hiddenCharacter,
  hiddenInText,
  impossibleDate,
  impossibleDensity,
  impossibleTime,
  leadShort,
  looseLine,
  lossAboveUsual,
  lossCreeping,
  lotAdded,
  lotBeforeMade,
  lotOnHold,
  lotUsedUp,
  mercuryToFire,
  mergeMarker,
  metalGained,
  metalMissing,
  misplacedDetail,
  missingIndent,
  missingPart,
  missingUnit,
  mixedWeighings,
  moreOutThanIn,
  moreThanLeft,
  mouldTooSmall,
  nameNeedsQuotes,
  nameUsedTwice,
  nearName,
  niterWithFuel,
  noMetalToCupel,
  noSuchDegree,
  notCounted,
  notInWorkshop,
  notOursToSell,
  notSettled,
  nothingWeighed,
  oddCharacter,
  oddNumber,
  offTarget,
  offerBelowTerms,
  offerTotal,
  orderByPage,
  ownersMixed,
  paidBeforeShipped,
  partsAgainstShares,
  plansInACircle,
  pourTooCold,
  pourTooHot,
  precipitantShort,
  priceApart,
  priceMissing,
  priceOld,
  priceUnit,
  productNotWeighed,
  ratioTooLow,
  refiningNotWorth,
  returnedDiffers,
  runOn,
  sampleOverdue,
  scaleDrifts,
  scaleOff,
  scaleOverloaded,
  scaleTooCoarse,
  sealBroken,
  sealWithoutDigest,
  settledAndBack,
  settledAssay,
  settledBelowOffer,
  settledByAnother,
  settledPrice,
  settledTerms,
  settledTotal,
  settledTwice,
  settledWeight,
  shelfMetalGiven,
  silverUnpaid,
  slagStiff,
  slagTooAcid,
  slagTooBasic,
  soldUnassayed,
  spoilsCupel,
  spoilsParting,
  strayPart,
  sulphurLeft,
  suspectReading,
  swallowedDetail,
  tareAboveGross,
  targetOutOfReach,
  termsMissing,
  thousandsMark,
  timeGoesBack,
  tooQuick,
  unclosedQuote,
  unknownLot,
  unknownMaterial,
  unknownMeasure,
  unknownUnit,
  unknownVerb,
  unknownWord,
  weightChanged,
  weightsOutOfOrder,
  whichUnit,
  witnessIsHand,
  wrongUnit,
];
