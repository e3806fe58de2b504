/** Lots whose entries changed get a new story. */
import type { Entry, Flow } from '../../engine/entry';
import { lotStory } from '../../engine/lot';
import type { OtherBalance } from '../../engine/slip-ranking';
import { otherBalanceIn } from '../../engine/slips';
import { lotsOf } from '../../journal/names';
import type { Measured } from '../../quantity/measured';
import { inOrder } from '../order';
import { counted, isMade, partsFor, stepNow, storyNow, type Work } from './work';

/**
 * A slip at a hand-over is likelier when it also mends the balance of the step that the weight stands in. Balances are known only now, so
 * stories with a hand-over in doubt are told once more.
 */
export const weighEvidence = (work: Work): void => {
  const lots = new Set(work.stories.keys());
  for (const entry of work.steps.keys()) for (const lot of lotsOf(entry)) lots.add(lot);
  const otherBalance = (entry: Entry, flow: Flow): OtherBalance | undefined =>
    otherBalanceIn(stepNow(work, entry), flow);
  for (const lot of lots) {
    if (storyNow(work, lot)?.handovers.some(({ explained }) => !explained)) retell(work, lot, otherBalance);
  }
};

/** Tells a lot's story again; answers the entries that speak of it. */
export const retell = (
  work: Work,
  lot: string,
  otherBalance?: (entry: Entry, flow: Flow) => OtherBalance | undefined,
): readonly Entry[] => {
  const entries = withMended(work, lot, work.find.ofLot(lot));
  const wasMade = isMade(storyNow(work, lot));
  const telling = entries.flatMap((entry) => counted(work, entry) ?? []);
  const solved = (entry: Entry, flow: Flow): Measured | undefined => {
    const step = stepNow(work, entry);
    return step?.solved?.flow === flow ? step.solved.mass : undefined;
  };
  work.stories.set(
    lot,
    entries.length > 0
      ? lotStory(lot, telling, work.workshop, solved, {
          leftOf: leftOf(work),
          otherBalance,
        })
      : undefined,
  );
  for (const entry of entries) work.touched.add(entry);
  // A material that nobody knows may be this lot, taken as if from the shelf.
  if (wasMade !== isMade(storyNow(work, lot))) for (const entry of work.find.ofMaterial(lot)) work.touched.add(entry);
  return entries;
};

/** What a correction puts this lot into does not name it itself. */
const withMended = (work: Work, lot: string, entries: readonly Entry[]): readonly Entry[] => {
  const mended = entries.flatMap((entry) => {
    const names =
      entry.prefix === 'correct' ? entry.flows.some((flow) => flow.lot?.was && flow.lot.name === lot) : false;
    const { first } = names ? partsFor(work, entry) : { first: entry };
    return entries.includes(first) ? [] : [first];
  });
  return mended.length === 0 ? entries : [...new Set([...entries, ...mended])].sort(inOrder(work.pages));
};

/** What is left of another lot as it enters an entry: of the one that a `relabel` renames. */
const leftOf =
  (work: Work) =>
  (entry: Entry, lot: string): Measured | undefined =>
    storyNow(work, lot)?.events.find((event) => event.entry === entry)?.before;
