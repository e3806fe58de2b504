/** Lead that a charge brings down out of its litharge, and the slag that is left. */
import { CHARCOAL_PER_CARBON, charcoalForIron, LEAD_IN_LITHARGE, LEAD_IN_RED_LEAD } from '../engine/bench/flux';
import { leadButton, reducingPower } from '../engine/bench/oxidation';
import {
  type Assumption,
  assume,
  between,
  type Estimate,
  exactly,
  FROM_MEMORY,
  less,
  sumOf,
  times,
} from '../engine/bench/result';
import { type Slag, slagOf } from '../engine/bench/slag';
import { heldInCharge } from '../engine/bench/together';
import type { ChargeItem } from '../engine/gas';
import { type Charged, sulphurTakenBy, withoutSulphides } from './sulphur-taken';

/** What brings lead down in a charge with litharge, and what takes some of that back. */
export interface LeadBook {
  /** Lead in litharge and red lead, g: no more can come down. Of a feed within the bounds of its make. */
  readonly available: number;
  readonly availableWithin: Estimate;
  /** What reduces and what oxidises, g by material name or mineral formula. */
  readonly agents: ReadonlyMap<string, number>;
  /** Lead that all that reduces brings down, g: from the least of it at its least to the most at its most. */
  readonly reduces: Estimate;
  /** Lead that oxidisers take back, g. */
  readonly oxidises: Estimate;
  /** Lead that would have come down by what the ferric iron of the feed takes first, g. */
  readonly ferric: Estimate;
}

export const leadBook = ({ feed, added }: Charged): LeadBook => {
  const all = [...feed, ...added];
  const agents = new Map<string, number>();
  const put = (agent: string, grams: number): void => {
    if (grams > 0 && reducingPower(agent)) agents.set(agent, (agents.get(agent) ?? 0) + grams);
  };
  for (const { material, massGrams } of all) {
    if (reducingPower(material.name)) put(material.name, massGrams);
    else
      for (const { what, fraction } of material.composition)
        if (what === 'C') put('charcoal', massGrams * fraction * CHARCOAL_PER_CARBON);
        else put(what, massGrams * fraction);
  }
  const availableWithin = heldInCharge(all, (what) => LEAD_IN.get(what) ?? 0);
  return {
    available: availableWithin.best,
    availableWithin,
    agents,
    // Rust by its name is among the agents already.
    reduces: leadBy(all, 1),
    oxidises: leadBy(all, -1),
    ferric: times(
      charcoalForIron(feed.filter(({ material }) => !reducingPower(material.name))),
      reducingPower('charcoal')!.leadPerGram.best,
    ),
  };
};

/** Lead that a gram of something brings down (1), or takes back (-1), g. */
const powerOf = (what: string, side: 1 | -1): Estimate => {
  const row = reducingPower(what);
  if (!row || row.leadPerGram.best * side < 0) return exactly(0);
  const { low, best, high } = row.leadPerGram;
  return between(side * low, side * high, side * best);
};

/** The same of what lies in the crucible, its minerals within their bounds, g. */
const leadBy = (items: readonly ChargeItem[], side: 1 | -1): Estimate => {
  const byName = items.filter(({ material }) => reducingPower(material.name));
  const byMake = items.filter((item) => !byName.includes(item));
  const inMake = (end: keyof Estimate): Estimate =>
    heldInCharge(byMake, (what) =>
      what === 'C' ? powerOf('charcoal', side)[end] * CHARCOAL_PER_CARBON : powerOf(what, side)[end],
    );
  return sumOf([
    ...byName.map(({ material, massGrams }) => times(powerOf(material.name, side), massGrams)),
    { low: inMake('low').low, best: inMake('best').best, high: inMake('high').high },
  ]);
};

/** Lead that litharge and red lead of a charge give up to what reduces it; ferric iron is reduced first. */
export const leadFrom = (
  smelt: Charged,
): { readonly grams: Estimate; readonly assumed: readonly Assumption[] } | undefined => {
  const book = leadBook(smelt);
  if (!(book.available > 0)) return undefined;
  if (sulphurTakenBy(smelt) === 'iron')
    return { grams: book.availableWithin, assumed: [assume('iron brings all of the lead down', FROM_MEMORY)] };
  const { reduces, oxidises, ferric } = book;
  const left = reduces.best > 0 ? Math.max(0, 1 - ferric.best / reduces.best) : 1;
  const agents = [...book.agents].map(
    ([agent, grams]) => [agent, reducingPower(agent)!.leadPerGram.best > 0 ? left * grams : grams] as const,
  );
  const found = leadButton({ agentGrams: new Map(agents), leadAvailableGrams: book.available });
  if (!found.value) return undefined;
  const wide = less(reduces, sumOf([oxidises, ferric]));
  const { best, low, high } = found.value;
  const grams = {
    best,
    low: Math.min(low, wide.low, book.availableWithin.low),
    high: Math.max(high, Math.min(wide.high, book.availableWithin.high)),
  };
  return { grams, assumed: found.assumed };
};

const LEAD_IN: ReadonlyMap<string, number> = new Map([
  ['PbO', LEAD_IN_LITHARGE],
  ['Pb3O4', LEAD_IN_RED_LEAD],
]);

/** Without the lead that comes down, and as what takes its sulphur leaves it. */
export const slagOfCharge = (charge: Charged): Slag => {
  const lead = leadFrom(charge);
  const feed = withoutSulphides(charge.feed, sulphurTakenBy(charge));
  return slagOf([...feed, ...charge.added], lead ? { leadReducedGrams: lead.grams.best } : {});
};
