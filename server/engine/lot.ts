/**
 * The story of one lot: where it came from, every weighing of it, what was taken from it, what is left. Each weighing is held against
 * what the record says should be there.
 */
import { add } from '../quantity/measured';
import type { LotStory, Weight } from './book';
import type { Amount, Entry, Flow, Named, Said } from './entry';
import { isUsedUp } from './spent';
import { type LotContext, type SolvedOut, Tale } from './tale';
import { recorded, UNKNOWN, weighAmount } from './weigh';
import type { Workshop } from './workshop';

export type { LotContext } from './tale';

/**
 * Tells the story of the lot `name` from all entries that mention it, in order and as they count now (corrected, `more` entries on their
 * own). Plans, voids, corrections and entries that were not understood book nothing. Masses in grams.
 */
export function lotStory(
  name: string,
  entries: readonly Entry[],
  workshop: Workshop,
  solvedOut: SolvedOut,
  context: LotContext = {},
): LotStory {
  const tale = new Tale(name, workshop, solvedOut, context);
  const booked = entries.filter(({ broken, prefix }) => !broken && (prefix === undefined || prefix === 'more'));
  for (const [at, entry] of booked.entries()) tellEntry(tale, entry, () => booked.slice(at + 1));
  return tale.story();
}

/** `later` are the entries of the lot that come after. */
function tellEntry(tale: Tale, entry: Entry, later: () => readonly Entry[]): void {
  const before = tale.events.length;
  tellHead(tale, entry, later);
  const own = entry.flows.filter((flow) => flow.lot?.name === tale.name);
  for (const flow of own) if (flow.word === 'in') tellIn(tale, entry, flow);
  for (const flow of own) if (flow.word !== 'in') tellOther(tale, entry, flow);
  if (tale.events.length === before) tale.note('named', entry, entry.name?.place ?? entry.head);
}

function tellHead(tale: Tale, entry: Entry, later: () => readonly Entry[]): void {
  if (entry.verb === 'relabel') tellRelabel(tale, entry);
  if (entry.name?.name !== tale.name) return;
  const { place } = entry.name;
  if (entry.verb === 'receive') tellReceive(tale, entry, place);
  else if (entry.verb === 'weigh') tale.weigh('weighed', entry, place, headWeight(tale, entry));
  else if (entry.verb === 'discard') tellDiscard(tale, entry, place);
  else if (entry.verb === 'sample') tellSampled(tale, entry);
  else if (entry.verb === 'assay') tellAssay(tale, entry, place, later);
  else if (entry.verb === 'sell') tale.sell(entry, place);
  else if (entry.verb === 'settle') tale.note('settled', entry, place);
}

function tellReceive(tale: Tale, entry: Entry, place: Named['place']): void {
  const party = entry.party && tale.workshop.parties.get(entry.party.name);
  const bought = entry.others.some(({ word }) => word === 'bought');
  const owner = entry.said.owner ?? (party?.role === 'customer' && !bought ? entry.party : undefined);
  const material = entry.others.find(({ word }) => word === 'material')?.names[0]?.name;
  tale.bear('received', entry, place, headWeight(tale, entry), undefined, { material, kind: undefined }, owner);
}

/** Of several amounts the first that gives a net weight; without one, what a vessel or a pile held before, less what it held after. */
function headWeight(tale: Tale, entry: Entry): Weight {
  const lines: { amount: Amount; said: Said }[] = entry.amounts.map(({ amount, said }) => ({ amount, said }));
  if (entry.amount && !lines.some(({ amount }) => amount === entry.amount)) {
    lines.unshift({ amount: entry.amount, said: entry.said });
  }
  const weights = lines.map(({ amount, said }) => weighAmount(amount, said, tale.workshop, tale.name));
  return weights.find(({ mass }) => mass) ?? weights[0] ?? weighAmount(undefined, entry.said, tale.workshop, tale.name);
}

function tellRelabel(tale: Tale, entry: Entry): void {
  if (entry.name?.name === tale.name) tale.take('renamed', entry, entry.name.place, undefined, UNKNOWN);
  if (entry.toLot?.name !== tale.name) return;
  const left = entry.name && tale.context.leftOf?.(entry, entry.name.name);
  tale.bear('renamed', entry, entry.toLot.place, recorded(left, 'carried'), undefined, undefined, entry.said.owner);
}

function tellDiscard(tale: Tale, entry: Entry, place: Named['place']): void {
  const weight = headWeight(tale, entry);
  const part = (weight.mass && tale.left && !tale.isAll(weight.mass)) || tale.isPartPoured(weight);
  if (part) tale.takePart('discarded', entry, place, undefined, weight);
  else tale.take('discarded', entry, place, undefined, weight);
}

/** Each sample is a part of the lot. */
function tellSampled(tale: Tale, entry: Entry): void {
  for (const flow of entry.flows) {
    if ((flow.word !== 'out' && flow.word !== 'lost') || flow.lot?.name === tale.name) continue;
    const weight = weighAmount(flow.amount, flow.said, tale.workshop, flow.lot?.name ?? flow.word);
    tale.takePart('sampled', entry, flow.place, flow, weight);
  }
  if (entry.flows.length === 0) tale.note('sampled', entry, entry.head);
}

/** What an assay took is used up. What its metal sits in is what the lot is, where nobody said that before. */
function tellAssay(tale: Tale, entry: Entry, place: Named['place'], later: () => readonly Entry[]): void {
  const matrix = entry.others.find(({ word }) => word === 'material')?.names[0]?.name;
  if (matrix !== undefined) tale.isOf(matrix);
  const took = entry.others.filter(({ word }) => word === 'took');
  const weights = took.flatMap(({ amounts, said }) =>
    amounts.map((amount) => weighAmount(amount, said, tale.workshop, `taken of ${tale.name}`)),
  );
  const masses = weights.flatMap(({ mass }) => mass ?? []);
  if (isUsedUp(tale.birth, entry, tale.name, later())) tale.take('assayed', entry, place, undefined, UNKNOWN);
  else if (masses.length === 0) tale.note('assayed', entry, place);
  else tale.takePart('assayed', entry, place, undefined, { ...weights[0]!, mass: add(...masses) });
}

function tellIn(tale: Tale, entry: Entry, flow: Flow): void {
  if (flow.none) return;
  const weight = weighAmount(flow.amount, flow.said, tale.workshop, tale.name);
  const shipped = entry.verb === 'ship';
  if (flow.part) tale.takePart(shipped ? 'shipped' : 'part-used', entry, flow.place, flow, weight);
  else tale.take(shipped ? 'shipped' : 'used', entry, flow.place, flow, weight);
}

function tellOther(tale: Tale, entry: Entry, flow: Flow): void {
  const weight = weighAmount(flow.amount, flow.said, tale.workshop, tale.name);
  if (flow.word === 'out' && !flow.none) tellOut(tale, entry, flow, weight);
  if (flow.word === 'back') tellBack(tale, entry, flow, weight);
  if (flow.word === 'found') tale.weigh('found', entry, flow.place, weight, flow);
  if (flow.word === 'missing') tale.take('missing', entry, flow.place, flow, UNKNOWN);
}

function tellOut(tale: Tale, entry: Entry, flow: Flow, written: Weight): void {
  const weight = written.mass || written.volume ? written : solvedWeight(tale, entry, flow, written);
  const make = { material: undefined, kind: flow.kind };
  const tookWhole = entry.flows.some(
    (other) => other.word === 'in' && other.lot?.name === tale.name && !other.part && !other.none,
  );
  if (tookWhole) tale.goOn(entry, flow, weight);
  else if (entry.prefix === 'more' && tale.madeIn(entry)) tale.addTo(entry, flow, weight);
  else tale.bear('made', entry, flow.place, weight, flow, make, flow.said.owner);
  if (flow.said.discard) tale.take('discarded', entry, flow.place, flow, UNKNOWN);
}

const solvedWeight = (tale: Tale, entry: Entry, flow: Flow, written: Weight): Weight =>
  recorded(tale.solvedOut(entry, flow), 'solved', written);

function tellBack(tale: Tale, entry: Entry, flow: Flow, weight: Weight): void {
  if (entry.verb === 'sample' && entry.name?.name === tale.name) tale.addTo(entry, flow, weight, 'returned');
  else tale.comeBack(entry, flow, weight);
}
