/** The sulphides of a charge, and what takes their sulphur. */
import type { Estimate } from '../engine/bench/result';
import { pureItem, SULPHIDES } from '../engine/bench/slag';
import { isBurntByLitharge } from '../engine/bench/slag-warnings';
import { heldInCharge } from '../engine/bench/together';
import type { Entry } from '../engine/entry';
import type { ChargeItem } from '../engine/gas';
import { molarMass } from '../vocabulary/compounds';

/** What lies in the crucible, of known make. */
export interface Charged {
  readonly feed: readonly ChargeItem[];
  readonly added: readonly ChargeItem[];
}

export const NITERS: ReadonlySet<string> = new Set(['niter', 'soda-niter']);
export const IRONS: ReadonlySet<string> = new Set(['iron', 'iron-nails']);

const LITHARGES: ReadonlySet<string> = new Set(['litharge', 'red-lead']);

/** A fusion with litharge: a lead button is meant. */
export const isWithLitharge = ({ flows }: Entry): boolean =>
  flows.some(({ word, material }) => word === 'add' && LITHARGES.has(material?.name ?? ''));

/** Sulphide minerals of a charge, g by formula, each within its own bounds. */
export const sulphidesIn = (items: readonly ChargeItem[]): ReadonlyMap<string, Estimate> => {
  const formulas = new Set(items.flatMap(({ material }) => material.composition.map(({ what }) => what)));
  return new Map(
    [...formulas]
      .filter((formula) => SULPHIDES.has(formula))
      .map((formula) => [formula, heldInCharge(items, (what) => (what === formula ? 1 : 0))]),
  );
};

/** Minerals of iron that niter burns to ferrous oxide. */
const TO_FERROUS: ReadonlySet<string> = new Set(['FeS2', 'FeS', 'FeAsS', 'CuFeS2']);

/** What takes sulphur. */
export type Taker = 'niter' | 'iron' | 'litharge';

/** The feed as its slag sees it: burnt by niter or litharge its iron is in the slag, with iron the sulphides are matte beside it. */
export const withoutSulphides = (items: readonly ChargeItem[], by: Taker | undefined): readonly ChargeItem[] =>
  items.flatMap((item) => {
    if (!by) return [item];
    const { material, massGrams } = item;
    const sulphide = material.composition.filter(({ what }) => SULPHIDES.has(what));
    if (sulphide.length === 0) return [item];
    const share = sulphide.reduce((so, { fraction }) => so + fraction, 0);
    const ferrous = sulphide.reduce(
      (so, { what, fraction }) => so + (TO_FERROUS.has(what) ? (fraction * molarMass('FeO')) / molarMass(what) : 0),
      0,
    );
    const rest = material.composition.filter(({ what }) => !SULPHIDES.has(what));
    const dry = {
      material: {
        ...material,
        composition: rest.map((part) => ({
          what: part.what,
          fraction: part.fraction / (1 - share),
          ...(part.low === undefined ? {} : { low: part.low / (1 - share) }),
          ...(part.high === undefined ? {} : { high: Math.min(1, part.high / (1 - share)) }),
        })),
      },
      massGrams: massGrams * (1 - share),
      u: 0,
    };
    return by === 'iron' ? [dry] : [dry, pureItem('FeO', massGrams * ferrous)];
  });

/** What takes the sulphur of a charge, if anything does. */
export const sulphurTakenBy = ({ feed, added }: Charged): Taker | undefined => {
  if (added.some(({ material }) => NITERS.has(material.name))) return 'niter';
  if (added.some(({ material }) => IRONS.has(material.name))) return 'iron';
  return isBurntByLitharge([...feed, ...added]) ? 'litharge' : undefined;
};
