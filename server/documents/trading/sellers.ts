/** Purchases put together by who sold them: what each left over, and whether it held the gold that was claimed. */
import { shareOf } from '../../engine/accounts/assays';
import { fromMeasured, type Inexact, minus, scaled, sum, times } from '../../engine/accounts/inexact';
import { segmentsOf } from '../../engine/accounts/segments';
import { accountsOf } from '../../workspace/accounts';
import { type Bought, boughtUntil } from '../../workspace/selling/bought';
import type { Workspace } from '../../workspace/workspace';
import { count, grams } from '../cells';
import { type Choice, isWithin } from '../choice';
import { groupedBy } from '../grouped';
import { type Column, NOTHING, type Row, type Section, says, section, sentences, table, words } from '../model';
import { totalCells } from './bought';
import { fewWords } from './few';

const COLUMNS: readonly Column[] = [
  { head: 'from' },
  { head: 'purchases', right: true },
  { head: 'paid', right: true },
  { head: 'brought so far', right: true },
  { head: 'still open, would bring', right: true },
  { head: 'left over', right: true },
  { head: 'of what was paid', right: true },
  { head: 'gold claimed', right: true },
  { head: 'gold found in these', right: true },
  { head: 'more than claimed', right: true },
];

/** Where several sold. */
export const sellersSection = (workspace: Workspace, choice: Choice, until: string): readonly Section[] => {
  const all = boughtUntil(workspace, until).filter(({ date }) => isWithin(choice, date));
  const groups = [...groupedBy(all, ({ from, paid }) => `${from ?? 'nobody named'} ${paid.currency}`).values()];
  if (new Set(all.map(({ from }) => from)).size < 2) return [];
  return section(
    'Who sold it',
    table(
      COLUMNS,
      groups.map((own) => rowOf(workspace, own)),
    ),
    sentences([
      says('Gold is counted of purchases that came with a `claim Au` and whose gold is known by more than that claim.'),
      ...groups.flatMap((own) =>
        fewWords(own.length, 'purchase').map(({ text }) => says(`${own[0]!.from ?? 'nobody named'}: ${text}`)),
      ),
    ]),
  );
};

const rowOf = (workspace: Workspace, own: readonly Bought[]): Row => {
  const [{ entry, from, paid }] = own as [Bought];
  const held = own.flatMap((one) => goldOf(workspace, one) ?? []);
  const [claimed, found] = [held.map((one) => one.claimed), held.map((one) => one.found)].map(sum) as [
    Inexact,
    Inexact,
  ];
  return {
    cells: [
      words(from ?? 'nobody named'),
      count(own.length),
      ...totalCells(own, paid.currency),
      ...(held.length > 0 ? [grams(claimed), grams(found), grams(minus(found, claimed))] : [NOTHING, NOTHING, NOTHING]),
    ],
    place: entry.head,
  };
};

/** Grams of gold by the claim, and by what is known since; none where one of them is not known. */
const goldOf = (
  workspace: Workspace,
  { entry, lot }: Bought,
): { readonly claimed: Inexact; readonly found: Inexact } | undefined => {
  const story = workspace.book.lot(lot);
  const segment = story && segmentsOf(story).all.find(({ start }) => start.entry.anchor === entry.anchor);
  const mass = segment?.start.weight.mass;
  const claim = entry.others
    .flatMap(({ word, reading }) => (word === 'claim' && reading ? reading.metals : []))
    .find(({ symbol }) => symbol.name === 'Au');
  const [share] = claim ? shareOf(claim.amount) : [];
  const known = segment && accountsOf(workspace).metals.best(segment).get('Au');
  if (!mass || !share || !known?.share || known.ground === 'guessed') return undefined;
  const weight = fromMeasured(mass);
  return { claimed: scaled(weight, share.value), found: times(weight, known.share) };
};
