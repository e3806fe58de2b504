/** What our own sources brought, by the months that it belongs to: a clean-up holds what has gathered since the one before. */
import { fromMeasured, type Inexact, NOTHING as NO_METAL, plus, scaled, times } from '../../engine/accounts/inexact';
import { segmentsOf } from '../../engine/accounts/segments';
import { dayNumber, daysOfMonths, monthsBetween, nextDate } from '../../text/calendar';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { count, grams } from '../cells';
import type { Choice } from '../choice';
import { entriesWithin } from '../entries';
import { groupedBy } from '../grouped';
import { type Row, type Section, says, section, sentences, table, words } from '../model';

interface CleanUp {
  readonly source: string;
  readonly lot: string;
  readonly date: string;
  /** None where nothing tells. */
  readonly gold: Inexact | undefined;
  readonly guessed: boolean;
}

interface Month {
  readonly source: string;
  readonly month: string;
  grams: Inexact;
  guessed: boolean;
  readonly lots: Set<string>;
}

/** Parties whose role is `own`: a claim, a dredge, the own bench. */
export const cleanUpsSection = (workspace: Workspace, choice: Choice, until: string): readonly Section[] => {
  const bySource = groupedBy(cleanUpsUntil(workspace, until), ({ source }) => source);
  if (![...bySource.values()].some((own) => own.length > 1)) return [];
  const months = [...bySource.values()].flatMap(monthsOf);
  const shown = months.filter(({ month }) => isShown(month, choice));
  const unknown = [...bySource.values()].flat().filter(({ gold }) => !gold);
  if (shown.length === 0) return [];
  return section(
    'What our own sources brought, by month',
    table(
      [
        { head: 'source' },
        { head: 'month' },
        { head: 'fine gold', right: true },
        { head: 'of clean-ups', right: true },
      ],
      shown.map(rowOf),
    ),
    sentences([
      says(
        'A clean-up is shared out evenly over the days since the one before from the same source (common practice, no source); the first of a source counts to its own month.',
      ),
      ...(unknown.length > 0
        ? [says(`Not in it, as nothing tells their gold: ${unknown.map(({ lot }) => lot).join(', ')}.`)]
        : []),
    ]),
  );
};

const rowOf = ({ source, month, grams: gold, guessed, lots }: Month): Row => ({
  cells: [words(source), words(month), grams(gold, guessed ? 'guessed' : undefined), count(lots.size)],
});

/** Whole months: one that a period cuts is shown whole. */
const isShown = (month: string, { from, to }: Choice): boolean =>
  (from === undefined || month >= from.slice(0, 7)) && (to === undefined || month <= to.slice(0, 7));

const cleanUpsUntil = (workspace: Workspace, until: string): readonly CleanUp[] => {
  const { metals } = accountsOf(workspace);
  return entriesWithin(workspace, { to: until }).flatMap((entry): CleanUp[] => {
    const { verb, prefix, party, name, date } = entry;
    if (verb !== 'receive' || prefix || !party || !name || date === undefined) return [];
    if (workspace.workshop.parties.get(party.name)?.role !== 'own') return [];
    const story = workspace.book.lot(name.name);
    const segment = story && segmentsOf(story).all.find(({ start }) => start.entry.anchor === entry.anchor);
    const known = segment && metals.best(segment).get('Au');
    const mass = segment?.start.weight.mass;
    return [
      {
        source: party.name,
        lot: name.name,
        date,
        gold: mass && known?.share && times(fromMeasured(mass), known.share),
        guessed: known?.ground === 'guessed',
      },
    ];
  });
};

/** Of one source; they stand by date. */
const monthsOf = (own: readonly CleanUp[]): readonly Month[] => {
  const months = new Map<string, Month>();
  for (const [index, one] of own.entries()) {
    if (!one.gold) continue;
    const before = own.slice(0, index).findLast(({ date }) => date < one.date);
    const first = before ? nextDate(before.date) : one.date;
    const days = dayNumber(one.date) - dayNumber(first) + 1;
    const parts = daysOfMonths(first, one.date);
    for (const [at, month] of monthsBetween(first, one.date).entries()) {
      const so = months.get(month) ?? { source: one.source, month, grams: NO_METAL, guessed: false, lots: new Set() };
      months.set(month, so);
      so.grams = plus(so.grams, scaled(one.gold, parts[at]!.days / days));
      so.guessed ||= one.guessed;
      so.lots.add(one.lot);
    }
  }
  return [...months.values()].sort((a, b) => (a.month < b.month ? -1 : 1));
};
