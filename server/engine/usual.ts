/**
 * What a balance of mass means for each verb, and how much of it usually stays unaccounted for. A band says how much mass may be missing
 * without surprise; it is no statement about gold, which has its own balance.
 */
import type { Make, UsualBand } from './book';
import { rawName } from './left-of';

/**
 * `cold`: what goes in comes out, divided or joined. `melt`: metal and slag, with gas from the fluxes taken off. `driven off`: the loss is
 * the result. `cupel`: lead and base metal leave for the cupel. `wet`: in and out of solution, closed by mass only where all is weighed.
 * `sample`: booked against its lot.
 */
export type BalanceKind = 'cold' | 'melt' | 'driven off' | 'cupel' | 'wet' | 'sample';

/** The masses that a band depends on, in grams. */
export interface Charge {
  /** Lots that went in. */
  readonly feed: number;
  /** Metal added from the shelf, lead and other collectors included. */
  readonly metalAdded: number;
  /** Of that, lead and other metals that go into the cupel whole. */
  readonly collector: number;
  /** What else was added, less the gas that it gave off: it ends in the slag. */
  readonly slagMakers: number;
  /** Metal that came out; none when not all of it is known. */
  readonly metalOut: number | undefined;
  /** A slag line is there, be it `none`. */
  readonly slagWritten: boolean;
  /** Feed that is known to be no metal: sand, concentrate, sweeps. */
  readonly ore: boolean;
  /** All of the feed is known to be metal. */
  readonly metal: boolean;
  /** The feed's material, where the record says it. */
  readonly material: string | undefined;
  /** Oxygen that the feed may take from air or niter into the slag, in grams; none when its make is not known. */
  readonly oxygen: number | undefined;
  /** Gain of the weighed cupel, if it was. */
  readonly cupelGain: number | undefined;
}

export interface BalanceRow {
  readonly verb: string;
  readonly kind: BalanceKind;
  /** What the balance of mass says there. */
  readonly means: string;
  readonly band: (charge: Charge) => Omit<UsualBand, 'from'>;
  /** What several such steps are called; only where the loss of one says something of the next of its kind. */
  readonly many?: string;
}

const PRACTICE = 'common practice, no source';

const share =
  (low: number, high: number, why: string) =>
  ({ feed, metalAdded, slagMakers }: Charge) => {
    const all = feed + metalAdded + slagMakers;
    return { low: low * all, high: high * all, why };
  };

/** Share of a metal charge that a melt without flux loses: fume, spatter, what sticks to the crucible. */
const METAL_LOSS = 0.005;
/** Share of an ore or dirty feed that a smelt loses as dust and spatter, and of the slag that stays on crucible and mould. */
const DIRTY_LOSS = 0.05;
const CLINGING_SLAG = 0.05;
/** Of the slag-makers' mass, what their slag takes from the crucible's wall. */
const CRUCIBLE_WALL = 0.01;
/** Oxygen per gram of base metal slagged, at most: iron to FeO, 15.999/55.845. Tin 0.27, zinc 0.24, copper 0.13 to 0.25, lead 0.08. */
const OXYGEN_OF_IRON = 0.2865;
/** Of an unknown charge, the most that oxygen is supposed to add. */
const OXYGEN_CAP = 0.02;
/** Flux beyond this share of the feed makes a smelt; on clean metal more than a tenth is much already. */
const SMELTING_FLUX = 0.25;

/** A charge for slag rather than for metal: ore, or a feed of unknown make below much flux. */
export const isSmelt = (charge: Charge): boolean =>
  charge.ore || (!charge.metal && charge.slagMakers > SMELTING_FLUX * (charge.feed + charge.metalAdded));

/**
 * A heat whose slag was not weighed. Where metal was charged, its slag is taken for what the flux leaves, and so metal is held against
 * metal; of a smelt nothing can be told.
 */
export const slagNotWeighed = ({ slagMakers, slagWritten }: Charge): boolean => slagMakers > 0 && !slagWritten;

/** Feeds whose melting loss is known better than `metal` or `dirty`, as shares of the feed. */
const FEED_LOSS: ReadonlyMap<string, { readonly high: number; readonly why: string }> = new Map([
  ['placer-gold', { high: 0.05, why: `cleaned placer dust loses 1 to 5 %: ${PRACTICE}` }],
  ['gold', { high: 0.001, why: 'fine gold "never more than .10 %": report of one melter on a refining forum' }],
  ['lemel', { high: 0.05, why: `dirty scrap loses 1 to 5 %: ${PRACTICE}` }],
  ['sponge', { high: 0.07, why: `retorted or thrown-down metal loses 1 to 7 %: ${PRACTICE}` }],
]);

/** What a lot is called where losses are looked up: sponge, else its material as it came, be it burnt or roasted since. */
export const lossName = (make: Make | undefined): string | undefined =>
  make?.kind === SPONGE ? SPONGE : make?.material && rawName(make.material);

const SPONGE = 'sponge';

/** In the order of the table. */
export const FEEDS_WITH_OWN_LOSS: readonly string[] = [...FEED_LOSS.keys()];

/** What a heat usually loses of the metal charged, as a share of it. */
export const metalLoss = (material: string | undefined): { readonly high: number; readonly why: string } =>
  (material && FEED_LOSS.get(material)) || { high: METAL_LOSS, why: WHY_METAL };

function meltBand(charge: Charge): Omit<UsualBand, 'from'> {
  const metal = charge.feed + charge.metalAdded;
  const known = charge.material ? FEED_LOSS.get(charge.material) : undefined;
  if (charge.slagMakers <= 0 || slagNotWeighed(charge)) {
    const { high, why } = metalLoss(charge.material);
    return { low: 0, high: high * metal, why };
  }
  const smelt = isSmelt(charge);
  const own = (known?.high ?? (smelt ? DIRTY_LOSS : METAL_LOSS)) * metal;
  const high = own + CLINGING_SLAG * charge.slagMakers;
  return { low: -takenUp(charge), high, why: known?.why ?? (smelt ? WHY_SMELT : WHY_FLUXED) };
}

const WHY_METAL =
  'metal alone: under 0.5 % "not unusual" for karat scrap, a refiner\'s answer on a metal-finishing forum';
const WHY_FLUXED = `0.5 % of the metal, and a twentieth of the flux left on the crucible: ${PRACTICE}`;
const WHY_SMELT = `up to 5 % of a dirty feed, and a twentieth of the flux left on crucible and mould: ${PRACTICE}`;

/** Slag is heavier than what was charged by the oxygen of metal that burnt into it, and by what it ate of the crucible. */
function takenUp({ feed, metalAdded, slagMakers, metalOut, oxygen }: Charge): number {
  const metal = feed + metalAdded;
  const slagged = metalOut === undefined ? metal : Math.max(0, metal - metalOut);
  const air = oxygen ?? Math.min(OXYGEN_OF_IRON * slagged, OXYGEN_CAP * (metal + slagMakers));
  return air + CRUCIBLE_WALL * slagMakers;
}

/** PbO of Pb, 223.2/207.2; CuO of Cu, 79.545/63.546. */
const OXYGEN_OF_LEAD = 0.0772;
const OXYGEN_OF_COPPER = 0.2518;
/** Of the metal that a cupellation removes, what leaves as fume rather than into the cupel, at most. */
const CUPEL_FUME = 0.15;

/**
 * With the cupel weighed, its gain is the litharge in it: 1.0772 of the lead, copper's oxide 1.25 of the copper, so the gain exceeds the
 * metal lost by the oxygen, less what went up as fume. Not weighed, all that is missing is supposed to be lead and base metal.
 */
function cupelBand({ feed, metalAdded, collector, metalOut, cupelGain }: Charge): Omit<UsualBand, 'from'> {
  const all = feed + metalAdded;
  if (cupelGain === undefined)
    return { low: 0, high: all, why: 'lead and base metal leave for the cupel, which was not weighed' };
  const removed = Math.max(0, all - (metalOut ?? 0));
  const other = Math.max(0, removed - collector);
  const lead = removed - other;
  return {
    low: -(OXYGEN_OF_LEAD * lead + OXYGEN_OF_COPPER * other),
    high: CUPEL_FUME * removed,
    why: 'a cupel gains 0.85 to 1.08 of the lead: oxygen of litharge by atomic weights; fume from memory',
  };
}

const row = (verb: string, kind: BalanceKind, means: string, band: BalanceRow['band'], many?: string): BalanceRow => ({
  verb,
  kind,
  means,
  band,
  many,
});

/** One row a verb that has flows. */
export const BALANCES: readonly BalanceRow[] = [
  row('split', 'cold', 'Nothing can be lost: a difference is a weighing or a piece.', share(0, 0, 'nothing is lost')),
  row('blend', 'cold', 'Nothing can be lost: a difference is a weighing or a piece.', share(0, 0, 'nothing is lost')),
  row(
    'screen',
    'cold',
    'All sizes together are the feed, but for a little dust.',
    share(0, 0.005, `dust: ${PRACTICE}`),
    'screenings',
  ),
  row(
    'magnet',
    'cold',
    'Magnetic and the rest together are the feed, but for a little dust.',
    share(0, 0.005, `dust: ${PRACTICE}`),
    'passes of the magnet',
  ),
  row(
    'pan',
    'cold',
    'Concentrate and tails, both dry, are the feed, but for slimes in the water.',
    share(0, 0.02, `slimes: ${PRACTICE}`),
    'pannings',
  ),
  row(
    'wash',
    'cold',
    'Flux, oxide and dirt come off; more than 0.3 % means that an earlier weight was not clean metal.',
    share(0, 0.003, `dirt and flux: ${PRACTICE}`),
    'washes',
  ),
  row(
    'dry',
    'driven off',
    'The loss is the water.',
    share(0, 0.3, `wet concentrate holds up to 30 % water: ${PRACTICE}`),
    'dries',
  ),
  row(
    'roast',
    'driven off',
    'Sulphur, arsenic and carbon leave, oxygen comes in: pyrite to Fe2O3 loses 33 %, arsenopyrite 51 %; metal gains.',
    share(
      -0.05,
      0.51,
      'FeS2 to Fe2O3 33 %, FeAsS 51 %, by atomic weights; gain of oxidised metal from common practice',
    ),
    'roasts',
  ),
  row(
    'burn',
    'driven off',
    'The loss is what burnt: 10 to 80 % of sweeps and filters.',
    share(0, 0.8, 'from memory'),
    'burns',
  ),
  row(
    'retort',
    'driven off',
    'The loss is mercury that was not weighed again; with the mercury weighed, what is missing went into the air.',
    share(0, 0.8, 'amalgam of 40 to 80 % mercury: caption of a university report on small-scale mining'),
    'retorts',
  ),
  row(
    'melt',
    'melt',
    'Metal, slag and gas are the charge, but for dust and what sticks to the crucible.',
    meltBand,
    'melts',
  ),
  row('cast', 'melt', 'Metal, slag and gas are the charge, but for what sticks to the crucible.', meltBand, 'casts'),
  row(
    'cupel',
    'cupel',
    'Lead and base metal leave for cupel and air: only the metals themselves show a loss of gold.',
    cupelBand,
  ),
  row(
    'dissolve',
    'wet',
    'Metal goes into solution and acid leaves as gas.',
    share(0, 1, 'dissolving takes all by design'),
  ),
  row('part', 'wet', 'Silver goes into solution.', share(0, 1, 'parting takes all but the gold by design')),
  row(
    'drop',
    'wet',
    'Metal comes out of solution; closed by mass only where all is weighed.',
    share(0, 0.05, `steam and splashes: ${PRACTICE}`),
    'drops',
  ),
  row('sample', 'sample', 'What was taken is less in its lot.', share(0, 0, 'nothing is lost')),
];

const BY_VERB: ReadonlyMap<string, BalanceRow> = new Map(BALANCES.map((balance) => [balance.verb, balance]));

export const balanceRow = (verb: string): BalanceRow | undefined => BY_VERB.get(verb);
