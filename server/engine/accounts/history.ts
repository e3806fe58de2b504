/** Connected histories: lots that hang together by steps, new names and samples. What happens in one says nothing of another. */
import type { Book, LotEvent, LotStory, Step } from '../book';
import { balanceRow } from '../usual';

export interface History {
  /** Its lots, in the order in which they come into the record. */
  readonly stories: readonly LotStory[];
  readonly steps: readonly Step[];
}

export type HistoryBook = Pick<Book, 'lot' | 'lotNames' | 'step'>;

/** All of a journal, in the order in which they begin. */
export const historiesOf = (book: HistoryBook): readonly History[] => {
  const seen = new Set<string>();
  const found: History[] = [];
  for (const lot of book.lotNames()) {
    if (seen.has(lot)) continue;
    const history = historyOf(book, lot);
    for (const { name } of history?.stories ?? []) seen.add(name);
    if (history) found.push(history);
  }
  return found.sort(({ stories: [a] }, { stories: [b] }) => compare(a!, b!));
};

/** The one that a lot belongs to; undefined for a lot that no entry speaks of. */
export const historyOf = (book: HistoryBook, lot: string): History | undefined => {
  const first = book.lot(lot);
  if (!first) return undefined;
  const stories = new Set<LotStory>([first]);
  const steps = new Set<Step>();
  const queue = [first];
  for (let story = queue.pop(); story; story = queue.pop()) {
    for (const event of story.events) {
      for (const name of lotsAt(event, book, steps)) {
        const other = book.lot(name);
        if (!other || stories.has(other)) continue;
        stories.add(other);
        queue.push(other);
      }
    }
  }
  return { stories: [...stories].sort(compare), steps: [...steps].sort((a, b) => compareEntries(a, b)) };
};

/** Lots that an event ties to its own. */
const lotsAt = ({ entry }: LotEvent, book: HistoryBook, steps: Set<Step>): readonly string[] => {
  if (entry.verb === 'relabel') return [entry.name, entry.toLot].flatMap((one) => one?.name ?? []);
  if (entry.verb === 'sample')
    return [...(entry.name ? [entry.name.name] : []), ...entry.flows.flatMap(({ lot }) => lot?.name ?? [])];
  const step = book.step(entry);
  if (!step || !isBalanced(step) || steps.has(step)) return [];
  steps.add(step);
  return [...step.inputs, ...step.outputs, ...step.lost].flatMap(({ flow }) => flow.lot?.name ?? []);
};

/** A step whose two sides are there, so that one can be held against the other. */
const isBalanced = ({ entry, openBecause }: Step): boolean =>
  balanceRow(entry.verb) !== undefined &&
  entry.verb !== 'sample' &&
  openBecause !== 'nothing in' &&
  openBecause !== 'nothing out';

const compare = (a: LotStory, b: LotStory): number => order(dateOf(a), dateOf(b)) || order(a.name, b.name);
const dateOf = ({ events: [first] }: LotStory): string => first?.entry.date ?? '';
const compareEntries = ({ entry: a }: Step, { entry: b }: Step): number =>
  order(a.date ?? '', b.date ?? '') || order(a.name?.name ?? '', b.name?.name ?? '');
const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
