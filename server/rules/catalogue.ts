/** Every rule, one file each, in the order of their codes. Made from the folder: `npm run generate`. */
import { acceptedNothing } from './accepted-nothing';
import { acceptedWithoutReason } from './accepted-without-reason';
import { commaList } from './comma-list';
import { compositionAboveWhole } from './composition-above-whole';
import { dayGoesBack } from './day-goes-back';
import { decimalComma } from './decimal-comma';
import { hiddenCharacter } from './hidden-character';
import { impossibleDate } from './impossible-date';
import { impossibleTime } from './impossible-time';
import { looseLine } from './loose-line';
import { mergeMarker } from './merge-marker';
import { misplacedDetail } from './misplaced-detail';
import { missingIndent } from './missing-indent';
import { missingPart } from './missing-part';
import { missingUnit } from './missing-unit';
import { mixedWeighings } from './mixed-weighings';
import { nameNeedsQuotes } from './name-needs-quotes';
import { nameUsedTwice } from './name-used-twice';
import { nearName } from './near-name';
import { oddCharacter } from './odd-character';
import { oddNumber } from './odd-number';
import type { Rule } from './rule';
import { strayPart } from './stray-part';
import { swallowedDetail } from './swallowed-detail';
import { thousandsMark } from './thousands-mark';
import { timeGoesBack } from './time-goes-back';
import { unclosedQuote } from './unclosed-quote';
import { unknownLot } from './unknown-lot';
import { unknownUnit } from './unknown-unit';
import { unknownVerb } from './unknown-verb';
import { unknownWord } from './unknown-word';
import { whichUnit } from './which-unit';
import { wrongUnit } from './wrong-unit';

export const RULES: readonly Rule[] = [
  acceptedNothing,
  acceptedWithoutReason,
  commaList,
  compositionAboveWhole,
  dayGoesBack,
  decimalComma,
  hiddenCharacter,
  impossibleDate,
  impossibleTime,
  looseLine,
  mergeMarker,
  misplacedDetail,
  missingIndent,
  missingPart,
  missingUnit,
  mixedWeighings,
  nameNeedsQuotes,
  nameUsedTwice,
  nearName,
  oddCharacter,
  oddNumber,
  strayPart,
  swallowedDetail,
  thousandsMark,
  timeGoesBack,
  unclosedQuote,
  unknownLot,
  unknownUnit,
  unknownVerb,
  unknownWord,
  whichUnit,
  wrongUnit,
];
