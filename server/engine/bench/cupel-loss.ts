/** Gold and silver that a cupellation takes, the bead to expect, and back from the bead to what was in the button. */
import {
  type Assumption,
  answer,
  assume,
  BERINGER,
  type Estimate,
  FROM_MEMORY,
  interpolate,
  interpolateHeld,
  noAnswer,
  type Result,
  ROSE,
  sumOf,
} from './result';

/** Silver, mg, and the share of it lost with 20 g lead at a good working heat. */
const BY_SILVER: readonly (readonly [number, number])[] = [
  [12.5, 0.056],
  [100, 0.029],
  [200, 0.028],
  [400, 0.0175],
  [800, 0.012],
];
/** Lead, g, and the loss of 400 mg silver with it against that with 20 g. */
const BY_LEAD: readonly (readonly [number, number])[] = [
  [10, 0.0162 / 0.0175],
  [20, 1],
  [40, 0.03 / 0.0175],
  [60, 0.0317 / 0.0175],
];
/** Copper to silver by mass, and by how much the loss grows: 1.15 by Rose's half gram, 1.69 by Beringer's 100 mg with 0.5 g copper. */
const BY_COPPER: readonly (readonly [number, number])[] = [
  [0, 1],
  [0.08, 1.15],
  [5, 0.049 / 0.029],
];
/** Heat of the muffle, °C, and loss against that of a good working heat: from memory, 200 mg silver with 10 g lead. */
const BY_CELSIUS: readonly (readonly [number, number])[] = [
  [700, 1.0 / 1.7],
  [775, 1.3 / 1.7],
  [850, 1],
  [925, 3.7 / 1.7],
  [1000, 4.9 / 1.7],
];
/** Clear yellow instead of bright red: 4.32 % for 1.75 %. */
const CLEAR_YELLOW = 0.0432 / 0.0175;

/** Trials of one student ranged so far about their means, as a share of the loss. */
const TRIAL_SPREAD = 0.3;

export interface SilverCupelled {
  readonly silverMilligrams: number;
  readonly leadGrams: number;
  readonly copperGrams?: number;
  /** `bright red` is a good working heat; a logged temperature in °C is reckoned by a table from memory. */
  readonly heat?: 'bright red' | 'clear yellow' | { readonly celsius: number };
}

/**
 * Share of the silver lost in an assay cupellation on bone ash, 0 to 1: published trials, the effect of the lead times that
 * of the silver, copper and heat. No answer outside of 12.5 to 800 mg silver and 10 to 60 g lead.
 */
export function silverLoss(cupelled: SilverCupelled): Result<Estimate> {
  const { silverMilligrams, leadGrams, copperGrams = 0, heat = 'bright red' } = cupelled;
  const own = interpolateLog(BY_SILVER, silverMilligrams);
  const lead = interpolateLog(BY_LEAD, leadGrams);
  if (own === undefined) return noAnswer('the trials cover 12.5 to 800 mg of silver');
  if (lead === undefined) return noAnswer('the trials cover 10 to 60 g of lead');
  const copper = interpolateHeld(BY_COPPER, (1000 * copperGrams) / silverMilligrams);
  const hot = heatFactor(heat);
  if (hot === undefined) return noAnswer('the table of heats goes from 700 to 1000 °C');
  const best = own * lead * copper * hot;
  return answer(
    { best, low: best * (1 - TRIAL_SPREAD), high: Math.min(1, best * (1 + TRIAL_SPREAD)) },
    silverSources(cupelled),
  );
}

function heatFactor(heat: NonNullable<SilverCupelled['heat']>): number | undefined {
  if (heat === 'bright red') return 1;
  return heat === 'clear yellow' ? CLEAR_YELLOW : interpolate(BY_CELSIUS, heat.celsius);
}

function silverSources({ copperGrams = 0, heat }: SilverCupelled): Assumption[] {
  const sources = [
    assume('ten trials of silver on bone ash, lead and silver acting as a product; ± 30 %', BERINGER),
    assume('bone ash: other cupels take more or less', 'no source'),
  ];
  if (copperGrams > 0) sources.push(assume('copper raises the loss', `${BERINGER}; ${ROSE}, p. 504`));
  if (typeof heat === 'object') sources.push(assume('loss by the heat of the muffle', FROM_MEMORY));
  return sources;
}

/** Straight lines in the logarithms of both, so that a loss keeps its sign; undefined outside of the table. */
function interpolateLog(table: readonly (readonly [number, number])[], at: number): number | undefined {
  const logs = table.map(([x, y]) => [Math.log(x), Math.log(y)] as const);
  const [first, last] = [table[0]![0], table.at(-1)![0]];
  if (!(at >= first && at <= last)) return undefined;
  return Math.exp(interpolateHeld(logs, Math.log(at)));
}

/** Silver to gold by mass, and the share of gold lost: alone 0.14 to 0.19 %, with as much silver 0.157, with twice 0.107. */
const GOLD_BY_SILVER: readonly (readonly [number, number])[] = [
  [0, 0.00159],
  [1, 0.00157],
  [2, 0.00107],
  [2.5, 0.0007],
];

export interface GoldCupelled {
  readonly goldMilligrams: number;
  readonly silverMilligrams?: number;
  readonly copperGrams?: number;
  /** Much hotter than an ordinary muffle: 0.60 to 0.65 % was lost. */
  readonly veryHot?: boolean;
}

/** Share of the gold lost in cupellation, 0 to 1. Silver protects it; copper and heat raise it. */
export function goldLoss({
  goldMilligrams,
  silverMilligrams = 0,
  copperGrams = 0,
  veryHot = false,
}: GoldCupelled): Result<Estimate> {
  if (!(goldMilligrams > 0)) return noAnswer('there is no gold');
  const source = [assume('trials of gold alone, with as much and with twice the silver; 0.07 % with more', BERINGER)];
  if (veryHot)
    return answer({ low: 0.006, best: 0.00625, high: 0.0065 }, [assume('very hot: 0.60 to 0.65 %', BERINGER)]);
  const best = interpolateHeld(GOLD_BY_SILVER, silverMilligrams / goldMilligrams);
  return answer({ best, low: 0.7 * best, high: copperGrams > 0 ? Math.max(0.003, 1.2 * best) : 1.2 * best }, source);
}

/** Grains of gold lost by a charge of 20 grains of bullion, silver and lead included (Lowe, in Beringer & Beringer 1904). */
const BULLION_LOSS_GRAINS = 0.014;
const BULLION_CHARGE_GRAINS = 20;

/** Share of the gold lost by a bullion assay charge: the loss is by the charge, so the poorer the bullion the more. */
export function bullionGoldLoss(goldFraction: number): Result<number> {
  if (!(goldFraction >= 0.3 && goldFraction <= 1)) return noAnswer('the figure is for bullion of 9 to 22 carat');
  return answer(BULLION_LOSS_GRAINS / (BULLION_CHARGE_GRAINS * goldFraction), [
    assume('0.014 grain from a charge of 20 grains', `Lowe, in ${BERINGER}`),
  ]);
}

/** Percent of a whole; any one unit of mass. */
export const lossPercent = (lost: number, whole: number): number => (100 * lost) / whole;

/** Losses of a cupellation in quantity, as shares: from memory, silver 1 to 3 %, gold 0.1 to 0.5 %; all of it stays in the cupel. */
const QUANTITY_LOSS: Readonly<Record<'gold' | 'silver', Estimate>> = {
  gold: { low: 0.001, best: 0.0025, high: 0.005 },
  silver: { low: 0.01, best: 0.02, high: 0.03 },
};

export interface CupelLosses {
  readonly gold: Estimate;
  readonly silver: Estimate;
  /** Published trials, or the range for larger lots. */
  readonly by: 'trials' | 'larger lots';
}

export interface Precious {
  readonly goldGrams: number;
  readonly silverGrams: number;
  readonly leadGrams: number;
  readonly copperGrams?: number;
  readonly heat?: SilverCupelled['heat'];
}

/** Losses as shares of each metal: by the trials where they reach, and the range of larger lots elsewhere. */
export function cupelLosses({
  goldGrams,
  silverGrams,
  leadGrams,
  copperGrams = 0,
  heat,
}: Precious): Result<CupelLosses> {
  if (!(goldGrams >= 0 && silverGrams >= 0 && goldGrams + silverGrams > 0))
    return noAnswer('there is neither gold nor silver');
  const silver =
    silverGrams > 0 ? silverLoss({ silverMilligrams: 1000 * silverGrams, leadGrams, copperGrams, heat }) : undefined;
  const gold =
    goldGrams > 0
      ? goldLoss({ goldMilligrams: 1000 * goldGrams, silverMilligrams: 1000 * silverGrams, copperGrams })
      : undefined;
  const trials = goldGrams <= MOST_GOLD_GRAMS && (silver === undefined || silver.value !== undefined);
  if (!trials) return answer({ gold: QUANTITY_LOSS.gold, silver: QUANTITY_LOSS.silver, by: 'larger lots' }, [LARGER]);
  return answer({ gold: gold?.value ?? NONE, silver: silver?.value ?? NONE, by: 'trials' }, [
    ...(silver?.value ? silver.assumed : []),
    ...(gold?.value ? gold.assumed : []),
  ]);
}

const NONE: Estimate = { low: 0, best: 0, high: 0 };
/** The trials of gold were with up to a gram. */
const MOST_GOLD_GRAMS = 1;
const LARGER = assume(
  'outside of the trials: silver 1 to 3 %, gold 0.1 to 0.5 %, all recoverable from the cupel',
  FROM_MEMORY,
);

export interface BeadExpected {
  readonly beadGrams: Estimate;
  /** Left in the cupel: a stock, not gone. g. */
  readonly goldInCupelGrams: Estimate;
  readonly silverInCupelGrams: Estimate;
}

/** Lead and copper that a finished bead keeps, as a share: tested silver beads averaged 99.85 % (Beringer & Beringer 1904). */
export const KEPT: Estimate = { low: 0, best: 0.0005, high: 0.0015 };

/** Bead from what is in the button, g: gold and silver less their losses, platinum metals, and what the bead keeps of lead. */
export function beadExpected(precious: Precious, platinumGrams = 0): Result<BeadExpected> {
  const losses = cupelLosses(precious);
  if (losses.value === undefined) return losses;
  const gold = remains(precious.goldGrams, losses.value.gold);
  const silver = remains(precious.silverGrams, losses.value.silver);
  const metal = sumOf([gold.left, silver.left, { best: platinumGrams, low: platinumGrams, high: platinumGrams }]);
  const beadGrams = { best: metal.best / (1 - KEPT.best), low: metal.low, high: metal.high / (1 - KEPT.high) };
  return answer({ beadGrams, goldInCupelGrams: gold.lost, silverInCupelGrams: silver.lost }, [
    ...losses.assumed,
    assume('a finished bead keeps 0 to 0.15 % of lead and copper', BERINGER),
    assume('what is lost sits in the cupel', `34.56 of 35.72 mg found there: ${BERINGER}`),
  ]);
}

function remains(grams: number, share: Estimate): { readonly left: Estimate; readonly lost: Estimate } {
  return {
    left: { best: grams * (1 - share.best), low: grams * (1 - share.high), high: grams * (1 - share.low) },
    lost: { best: grams * share.best, low: grams * share.low, high: grams * share.high },
  };
}

export interface BeforeCupelling {
  /** Gold and silver together in the button, g. */
  readonly goldSilverGrams: Estimate;
  /** Base metal and lead that left, g. */
  readonly removedGrams: Estimate;
}

/**
 * Back from the bead: gold plus silver of the button = bead × (1 − kept)/(1 − loss), and what left of base metal. Masses
 * in g. `goldOfBead`, 0 to 1, makes it narrower; not known, the whole range from all silver to all gold stands.
 */
export function beforeCupelling(
  buttonGrams: number,
  beadGrams: number,
  leadAddedGrams: number,
  goldOfBead?: number,
): Result<BeforeCupelling> {
  if (!(beadGrams > 0)) return noAnswer('there is no bead');
  if (beadGrams > buttonGrams) return noAnswer('the bead is heavier than the button was');
  const loss = lossOfMix(beadGrams, leadAddedGrams, goldOfBead);
  const best = (beadGrams * (1 - KEPT.best)) / (1 - loss.best);
  const low = (beadGrams * (1 - KEPT.high)) / (1 - loss.low);
  const high = Math.min(buttonGrams, beadGrams / (1 - loss.high));
  const goldSilverGrams = { best: Math.min(best, high), low, high: Math.max(low, high) };
  return answer(
    {
      goldSilverGrams,
      removedGrams: {
        best: buttonGrams - goldSilverGrams.best,
        low: buttonGrams - goldSilverGrams.high,
        high: buttonGrams - low,
      },
    },
    [
      assume('loss by the bead as it came out', BERINGER),
      assume('a finished bead keeps 0 to 0.15 % of lead and copper', BERINGER),
      ...(goldOfBead === undefined ? [assume('gold of the bead not known: from none to all', 'bounds')] : []),
    ],
  );
}

export function lossOfMix(beadGrams: number, leadGrams: number, goldOfBead: number | undefined): Estimate {
  const gold = goldOfBead ?? 0.5;
  const losses = cupelLosses({ goldGrams: gold * beadGrams, silverGrams: (1 - gold) * beadGrams, leadGrams }).value;
  if (!losses) return QUANTITY_LOSS.silver;
  const mixed = (end: keyof Estimate): number => gold * losses.gold[end] + (1 - gold) * losses.silver[end];
  if (goldOfBead !== undefined) return { low: mixed('low'), best: mixed('best'), high: mixed('high') };
  const all = cupelLosses({ goldGrams: 0, silverGrams: beadGrams, leadGrams }).value ?? losses;
  return { low: losses.gold.low, best: mixed('best'), high: Math.max(mixed('high'), all.silver.high) };
}

/** True when a bead weighs more than its gold and silver allow: lead or copper is left in it, and it wants to go back. */
export const isUnfinished = (beadGrams: number, expected: BeadExpected): boolean => beadGrams > expected.beadGrams.high;
