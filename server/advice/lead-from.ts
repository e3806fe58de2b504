/** Lead that a charge brings down out of its litharge, and the slag that is left. */
import { CHARCOAL_PER_CARBON, charcoalForIron, LEAD_IN_LITHARGE, LEAD_IN_RED_LEAD } from '../engine/bench/flux';
import { leadButton, reducingPower } from '../engine/bench/oxidation';
import { type Assumption, assume, type Estimate, exactly, FROM_MEMORY } from '../engine/bench/result';
import { type Slag, slagOf } from '../engine/bench/slag';
import type { ChargeItem } from '../engine/gas';
import { type Charged, sulphurTakenBy, withoutSulphides } from './sulphur-taken';

/** What brings lead down in a charge with litharge, and what takes some of that back. */
export interface LeadBook {
  /** Lead in litharge and red lead, g: no more can come down. */
  readonly available: number;
  /** What reduces and what oxidises, g by material name or mineral formula. */
  readonly agents: ReadonlyMap<string, number>;
  /** Lead that would have come down by what the ferric iron of the feed takes first, g. */
  readonly ferric: number;
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
  return {
    available: sumShares(all, 'PbO') * LEAD_IN_LITHARGE + sumShares(all, 'Pb3O4') * LEAD_IN_RED_LEAD,
    agents,
    // Rust by its name is among the agents already.
    ferric:
      charcoalForIron(feed.filter(({ material }) => !reducingPower(material.name))).best *
      reducingPower('charcoal')!.leadPerGram.best,
  };
};

/** Lead that all agents of one side bring down, or take back, g, best values. */
export const leadBy = ({ agents }: LeadBook, side: 'reduces' | 'oxidises'): number =>
  [...agents].reduce((so, [agent, grams]) => {
    const power = reducingPower(agent)!.leadPerGram.best;
    return power > 0 === (side === 'reduces') ? so + Math.abs(power) * grams : so;
  }, 0);

/** Lead that litharge and red lead of a charge give up to what reduces it; ferric iron is reduced first. */
export const leadFrom = (
  smelt: Charged,
): { readonly grams: Estimate; readonly assumed: readonly Assumption[] } | undefined => {
  const book = leadBook(smelt);
  if (!(book.available > 0)) return undefined;
  if (sulphurTakenBy(smelt) === 'iron')
    return { grams: exactly(book.available), assumed: [assume('iron brings all of the lead down', FROM_MEMORY)] };
  const reduces = leadBy(book, 'reduces');
  const left = reduces > 0 ? Math.max(0, 1 - book.ferric / reduces) : 1;
  const agents = [...book.agents].map(
    ([agent, grams]) => [agent, reducingPower(agent)!.leadPerGram.best > 0 ? left * grams : grams] as const,
  );
  const found = leadButton({ agentGrams: new Map(agents), leadAvailableGrams: book.available });
  return found.value ? { grams: found.value, assumed: found.assumed } : undefined;
};

const sumShares = (items: readonly ChargeItem[], formula: string): number =>
  items.reduce(
    (so, { material, massGrams }) =>
      so + massGrams * (material.composition.find(({ what }) => what === formula)?.fraction ?? 0),
    0,
  );

/** Without the lead that comes down, and as what takes its sulphur leaves it. */
export const slagOfCharge = (charge: Charged): Slag => {
  const lead = leadFrom(charge);
  const feed = withoutSulphides(charge.feed, sulphurTakenBy(charge));
  return slagOf([...feed, ...charge.added], lead ? { leadReducedGrams: lead.grams.best } : {});
};
