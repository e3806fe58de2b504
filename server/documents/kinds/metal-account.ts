/** The metal account of a period: what was on hand, came in, left, is on hand now, and what is left over with its limit of error. */
import { eachGapOnce, type MetalBalance } from '../../engine/accounts/balance';
import { type Inexact, minus, plus, spread, sum } from '../../engine/accounts/inexact';
import { COMES_IN } from '../../engine/accounts/moves';
import type { PeriodAccount } from '../../engine/accounts/period';
import type { Step } from '../../engine/book';
import { isMetalKind, metalShare } from '../../engine/charge';
import { findMaterial } from '../../engine/shelf';
import {
  BETWEEN,
  inFirst,
  limitWords,
  lineWords,
  lossLines,
  MOVEMENT_WORDS,
  unknownWords,
} from '../../reports/account';
import { BY_PRODUCTS, guessesOn, guessesSay } from '../../reports/by-products';
import { type StockList, type StockRow, type StockTotal, stockList, totaller } from '../../reports/stock';
import { stepWords } from '../../reports/words';
import { dayBefore } from '../../text/calendar';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { besides, count, grams, withoutGround } from '../cells';
import { type Choice, periodWords } from '../choice';
import { entriesWithin, stepsWithin } from '../entries';
import { groupedBy } from '../grouped';
import { lentSection } from '../lent';
import {
  type Cell,
  type Column,
  NOTHING,
  type Row,
  type Section,
  says,
  section,
  sentences,
  table,
  words,
} from '../model';
import { openWithSection } from '../open-with';
import { fact } from '../parts';
import { stillOutSection } from '../still-out';
import type { Kind } from './kind';

export const metalAccount: Kind = {
  code: 'metal-account',
  title: 'Metal account',
  means:
    'a period: opening, came in, left, closing, lost by kind of step, and what is left over with its limit of error',
  restsOn: 'period',
  takes: ['from', 'to', 'metal'],
  make: (workspace, choice) => {
    const metals = choice.metal === undefined ? METALS : [choice.metal];
    const accounts = metals.map((metal) => accountsOf(workspace).period(metal, choice.from, choice.to));
    const opening = choice.from === undefined ? undefined : stockList(workspace, dayBefore(choice.from));
    const closing = stockList(workspace, choice.to);
    return {
      title: `Metal account: ${periodWords(choice)}`,
      until: choice.to,
      facts: accounts.flatMap((one) => [
        ...fact(`${METAL_WORDS[one.metal] ?? one.metal} left over`, leftOver(one)),
        ...guessFact(workspace, one.metal, choice.to),
      ]),
      sections: [
        ...accounts.flatMap((one) => accountSections(workspace, one)),
        ...(choice.metal === undefined ? stockSections(opening, closing, workspace) : []),
        ...stillOutSection(workspace, choice.to ?? accountsOf(workspace).lastDate, {}, MOST_OUT),
        ...(choice.metal === undefined || choice.metal === 'Ag' ? lentSection(workspace, choice) : []),
        ...openWithSection(workspace, choice.to, true),
        ...largest(workspace, choice, metals),
        ...countedSection(workspace, choice, closing),
      ],
    };
  },
};

/** So many lots that are out are named. */
const MOST_OUT = 12;

const METALS: readonly string[] = ['Au', 'Ag'];
const METAL_WORDS: Readonly<Record<string, string>> = { Au: 'gold', Ag: 'silver', Hg: 'mercury' };

const guessFact = (workspace: Workspace, metal: string, to: string | undefined) => {
  const guesses = guessesOn(accountsOf(workspace), metal, to);
  return guesses ? fact(`${METAL_WORDS[metal] ?? metal} by guess`, words(guessesSay(guesses))) : [];
};

const leftOver = (of: PeriodAccount): Cell => {
  if (isUnknown(of)) return words('not known: no entry tells of it');
  const cell = withoutGround(grams(of.unaccounted));
  return { ...cell, text: `${cell.text}: ${limitWords(of)}` };
};

/** Lots came and went, and of none is it known whether they hold the metal: that nothing is missing of it is no finding. */
const isUnknown = ({ opening, closing, lines, unknownClosing }: PeriodAccount): boolean =>
  (unknownClosing > 0 || lines.some(({ unknown }) => unknown > 0)) &&
  [opening, closing, ...lines.map(({ grams: of }) => of)].every(({ value }) => value === 0);

const ACCOUNT_COLUMNS: readonly Column[] = [
  { head: 'line' },
  { head: 'fine weight', right: true },
  { head: 'of what' },
];

const accountSections = ({ workshop }: Workspace, of: PeriodAccount): readonly Section[] => {
  const { unit } = workshop.reports;
  const name = METAL_WORDS[of.metal] ?? of.metal;
  const row = (line: string, cell: Cell, what: string, total = false): Row => ({
    cells: [words(line), total ? besides(cell, unit?.symbol, unit?.factor) : cell, words(what)],
    ...(total ? { total: true } : {}),
  });
  const cupels = (line: string, held: Inexact): readonly Row[] =>
    held.value > 0 ? [row(line, grams(held, 'guessed'), '')] : [];
  if (isUnknown(of)) return [];
  const rows = [
    row('on hand at the opening', grams(of.opening), unknownWords(of.unknownOpening, 'lot')),
    ...cupels('in used cupels at the opening', of.cupelsOpening),
    ...inFirst(of.lines).map((line) =>
      row(
        `${COMES_IN.has(line.movement) ? 'and' : 'less'} ${MOVEMENT_WORDS[line.movement]}`,
        grams(line.grams),
        lineWords(line),
      ),
    ),
    row('should be there', grams(expected(of)), '', true),
    row('on hand at the closing', grams(of.closing), unknownWords(of.unknownClosing, 'lot')),
    ...cupels('in used cupels at the closing', of.cupelsClosing),
    row(
      of.unaccounted.value < 0 ? 'too much by' : 'unaccounted for',
      grams(sizeOf(of.unaccounted)),
      limitWords(of),
      true,
    ),
  ];
  const steps = [...lossLines(of)].sort((a, b) => Math.abs(b.grams.value) - Math.abs(a.grams.value));
  const saysMore = of.untold.length > 0;
  return [
    ...section(`Account of ${name}`, table(ACCOUNT_COLUMNS, rows)),
    ...section(
      `${name[0]!.toUpperCase()}${name.slice(1)} by kind of step`,
      table(
        [
          { head: 'step' },
          { head: 'how many', right: true },
          { head: 'charged less what came out', right: true },
          ...(saysMore ? [{ head: 'so' }] : []),
        ],
        steps.map(({ verb, count: steps, grams: lost, isUntold }) => ({
          cells: [
            words(verb ?? BETWEEN),
            count(steps),
            grams(lost),
            ...(saysMore ? [words(isUntold ? 'not known where it came out' : '')] : []),
          ],
        })),
      ),
    ),
  ];
};

const sizeOf = (of: Inexact): Inexact => ({ ...of, value: Math.abs(of.value) });

const expected = ({ opening, cupelsOpening, lines }: PeriodAccount): Inexact => {
  const of = (comesIn: boolean): Inexact =>
    sum(lines.filter(({ movement }) => COMES_IN.has(movement) === comesIn).map((line) => line.grams));
  return minus(plus(plus(opening, cupelsOpening), of(true)), of(false));
};

/** Gold and silver, what is sure and what is guessed apart. */
const sums = (totals: readonly StockTotal[]): readonly Cell[] =>
  METALS.flatMap((metal) => {
    const one = totals.find((total) => total.metal === metal);
    return [one?.sure.value ? grams(one.sure) : NOTHING, one?.guessed.value ? grams(one.guessed, 'guessed') : NOTHING];
  });

const SUM_COLUMNS: readonly Column[] = [
  { head: 'gold', right: true },
  { head: 'gold by guess', right: true },
  { head: 'silver', right: true },
  { head: 'silver by guess', right: true },
];

const stockSections = (
  opening: StockList | undefined,
  closing: StockList,
  workspace: Workspace,
): readonly Section[] => {
  const owners = [...new Set([...(opening?.owners ?? []), ...closing.owners].map(({ owner }) => owner))];
  const of = (list: StockList, owner: string): readonly Cell[] =>
    sums(list.owners.find((one) => one.owner === owner)?.totals ?? []);
  const ownerRows = owners.flatMap((owner) => [
    ...(opening ? [{ cells: [words(owner), words('opening'), ...of(opening, owner)] }] : []),
    { cells: [words(owner), words('closing'), ...of(closing, owner)] },
  ]);
  const rows = closing.owners.flatMap((one) => one.rows);
  const cupels = closing.owners.flatMap((one) => one.cupels);
  const forms = groupedBy(rows, (row) => formOf(workspace, row));
  if (cupels.length > 0) forms.set('used cupels', [...cupels]);
  const formRows = [...forms].map(([form, all]) => ({
    cells: [words(form), count(all.length), ...sums(formTotals(all)), words(oldestOf(all))],
  }));
  return [
    ...section('On hand by owner', table([{ head: 'owner' }, { head: 'when' }, ...SUM_COLUMNS], ownerRows)),
    ...section(
      'On hand at the closing, by form',
      table([{ head: 'form' }, { head: 'lots', right: true }, ...SUM_COLUMNS, { head: 'the oldest since' }], formRows),
    ),
  ];
};

const formTotals = totaller();

/** Empty where one has no day. */
const oldestOf = (rows: readonly StockRow[]): string | undefined => {
  let oldest = rows[0]?.since;
  for (const { since = '' } of rows) if (oldest !== undefined && since < oldest) oldest = since;
  return oldest;
};

/** What a lot is in the shop: metal, feed, a sample, what a heat left over. */
const formOf = ({ workshop }: Workspace, { kind, unit }: StockRow): string => {
  if (unit === 'millilitre' || kind === 'solution') return 'solutions';
  if (kind === 'drillings') return 'samples';
  if (kind !== undefined && BY_PRODUCTS.has(kind)) return 'slag, tails and other by-products';
  if (isMetalKind(kind)) return 'metal';
  const material = kind === undefined ? undefined : findMaterial(workshop, kind);
  return material && metalShare(material) >= 0.5 ? 'metal' : 'feed still to be worked';
};

const MOST_SHOWN = 8;
/** Of what weighing and assays explain. */
const WORTH_A_LOOK = 0.5;

/** Steps whose metal is off by most, in units of what weighing and assays explain. */
const largest = (workspace: Workspace, choice: Choice, metals: readonly string[]): readonly Section[] => {
  const accounts = accountsOf(workspace);
  const off = stepsWithin(workspace, choice).flatMap((step: Step) =>
    accounts
      .balances(step)
      .filter(
        ({ metal, unaccounted }) => metals.includes(metal) && spread(unaccounted) > 0 && step.entry.verb !== 'sample',
      )
      .map((balance) => ({
        step,
        balance,
        times: Math.abs(balance.unaccounted.value) / (2 * spread(balance.unaccounted)),
      })),
  );
  const rows = metals
    .flatMap((metal) =>
      eachGapOnce(
        off.filter(({ balance }) => balance.metal === metal),
        ({ step }) => step,
        ({ balance }) => balance.cameBy,
      ),
    )
    .filter(({ times }) => times > WORTH_A_LOOK)
    .sort((a, b) => Number(isGuess(a)) - Number(isGuess(b)) || b.times - a.times)
    .slice(0, MOST_SHOWN);
  const columns = [
    { head: 'step' },
    { head: 'day' },
    { head: 'metal' },
    { head: 'unaccounted for, usual loss taken off', right: true },
  ];
  return section(
    'Steps farthest off',
    table(
      columns,
      rows.map(({ step: { entry }, balance }): Row => {
        const { ground, metal, unaccounted } = balance;
        const cells = [words(stepWords(entry)), words(entry.date), words(metal)];
        return { cells: [...cells, grams(unaccounted, ground === 'guessed' ? ground : undefined)], place: entry.head };
      }),
    ) ?? sentences([says('No step is off by more than half of what weighing and assays explain.')]),
    sentences(
      rows.some(isGuess)
        ? [
            says(
              'Where it is guessed, what went in was known by a stamp, a claim, an expectation or what is usual alone: that may be off, and not the step.',
            ),
          ]
        : [],
    ),
  );
};

const isGuess = ({ balance }: { readonly balance: MetalBalance }): boolean => balance.ground === 'guessed';

/** How much of what is on hand anybody has looked at. */
const countedSection = (workspace: Workspace, choice: Choice, closing: StockList): readonly Section[] => {
  const counts = entriesWithin(workspace, choice).filter(({ verb }) => verb === 'count');
  const found = new Set(
    counts.flatMap(({ flows }) => flows.flatMap(({ word, lot }) => (word === 'found' && lot ? [lot.name] : []))),
  );
  const missing = counts.flatMap(({ flows }) => flows.filter(({ word }) => word === 'missing'));
  const lots = closing.owners.flatMap(({ rows }) => rows.map(({ lot }) => lot));
  const seen = lots.filter((lot) => found.has(lot)).length;
  return section(
    'Counted',
    sentences([
      says(
        `Of ${lots.length === 1 ? 'the one lot' : `${lots.length} lots`} on hand at the closing ${seen === 0 ? 'none was' : seen === 1 ? 'one was' : `${seen} were`} found at a count in this period.`,
        counts.at(-1)?.head,
      ),
      ...missing.map(({ lot, place }) => says(`${lot?.name ?? 'A lot'} was missing.`, place)),
    ]),
  );
};
