/** What has left and is neither settled nor sold: where a reader of what is on hand would wonder. */
import { memo } from '../engine/accounts/memo';
import type { LotStory } from '../engine/book';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { goldAndSilver, weight } from './cells';
import type { Choice } from './choice';
import { goneWords } from './events';
import type { Going } from './going';
import { type Column, type Row, type Section, says, section, sentences, table, words } from './model';
import { type Waiting, waitingOn } from './out';

const COLUMNS: readonly Column[] = [
  { head: 'lot' },
  { head: 'with' },
  { head: 'shipment' },
  { head: 'since' },
  { head: 'owner' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
];

/** Goods on consignment or on approval, and metal that waits for its account, are not sold by leaving (common practice, no source; what is agreed goes before it). */
export const STILL_OWNED =
  "By leaving it is not sold, be it on consignment, on approval or for its assay: it stays its owner's until it is settled, sold or back, unless it was agreed otherwise.";

/** At the end of a day, lot by lot; of many, so many that left last. */
export const stillOutSection = (
  workspace: Workspace,
  day: string,
  { owner: asked }: Choice = {},
  most = Number.POSITIVE_INFINITY,
): readonly Section[] => {
  const { shop, namesOf, ownedOn } = accountsOf(workspace);
  const ownersOf = ({ segment }: Going): readonly string[] => {
    const named = segment ? namesOf(ownedOn(segment)) : [];
    return named.length > 0 ? named : [shop];
  };
  let count = 0;
  let since: string | undefined;
  const shown: (readonly [Waiting, Going])[] = [];
  for (const shipment of waitingOn(workspace, {}, day).toReversed()) {
    for (const lot of shipment.going.toReversed()) {
      if (asked !== undefined && !ownersOf(lot).includes(asked)) continue;
      if (count < most) shown.unshift([shipment, lot]);
      count++;
      since = shipment.head.date;
    }
  }
  const rows = shown.map(
    ([{ head, party }, lot]): Row => ({
      cells: [
        words(lot.flow.lot!.name),
        words(party),
        words(head.name?.name),
        words(head.date),
        words(ownersOf(lot).join(' + ')),
        weight(lot.weight),
        ...goldAndSilver(lot.fine),
      ],
      place: lot.flow.place,
    }),
  );
  const more = count - shown.length;
  const earlier = `${more === 1 ? 'One more' : `${more} more`} left earlier, the longest out on ${since ?? 'a day that is not told'}: the document under-way lists all.`;
  return count === 0
    ? []
    : section(
        'Out, and not settled, sold or back',
        table(COLUMNS, rows),
        sentences([...(more > 0 ? [says(earlier)] : []), says(STILL_OWNED)]),
      );
};

const kept = memo<Workspace, ReadonlySet<string>>();

const lotsOut = (workspace: Workspace): ReadonlySet<string> => {
  const known = kept.get(workspace);
  if (known) return known;
  const all = waitingOn(workspace, {}, accountsOf(workspace).lastDate);
  const lots = new Set(all.flatMap(({ going }) => going.map(({ flow }) => flow.lot!.name)));
  kept.set(workspace, lots);
  return lots;
};

/** How a lot went that is no more here. */
export const whereWords = (workspace: Workspace, story: LotStory): string =>
  `${goneWords(story)}${lotsOut(workspace).has(story.name) ? ': not settled, so not sold' : ''}`;
