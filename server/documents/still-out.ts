/** What has left and is neither settled nor sold: where a reader of what is on hand would wonder. */
import { memo } from '../engine/accounts/memo';
import type { LotStory } from '../engine/book';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { goldAndSilver, weight } from './cells';
import type { Choice } from './choice';
import { goneWords } from './events';
import { type Column, type Row, type Section, says, section, sentences, table, words } from './model';
import { outOn } from './out';

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

/** Goods on consignment or on approval, and metal that waits for its account, are not sold by leaving (page quoting law dictionaries on consignment). */
export const STILL_OWNED =
  "By leaving it is not sold, be it on consignment, on approval or for its assay: it stays its owner's until it is settled, sold or back, unless it was agreed otherwise.";

/** At the end of a day, lot by lot. */
export const stillOutSection = (
  workspace: Workspace,
  day: string,
  { owner: asked }: Choice = {},
): readonly Section[] => {
  const accounts = accountsOf(workspace);
  const rows = outOn(workspace, {}, day).flatMap(({ head, party, going }) =>
    going.flatMap(({ flow, segment, weight: of, fine }): readonly Row[] => {
      const named = segment ? accounts.namesOf(accounts.ownedOn(segment)) : [];
      const owners = named.length > 0 ? named : [accounts.shop];
      if (asked !== undefined && !owners.includes(asked)) return [];
      return [
        {
          cells: [
            words(flow.lot!.name),
            words(party),
            words(head.name?.name),
            words(head.date),
            words(owners.join(' + ')),
            weight(of),
            ...goldAndSilver(fine),
          ],
          place: flow.place,
        },
      ];
    }),
  );
  return rows.length === 0
    ? []
    : section('Out, and not settled, sold or back', table(COLUMNS, rows), sentences([says(STILL_OWNED)]));
};

const kept = memo<Workspace, ReadonlySet<string>>();

const lotsOut = (workspace: Workspace): ReadonlySet<string> => {
  const known = kept.get(workspace);
  if (known) return known;
  const all = outOn(workspace, {}, accountsOf(workspace).lastDate);
  const lots = new Set(all.flatMap(({ going }) => going.map(({ flow }) => flow.lot!.name)));
  kept.set(workspace, lots);
  return lots;
};

/** How a lot went that is no more here. */
export const whereWords = (workspace: Workspace, story: LotStory): string =>
  `${goneWords(story)}${lotsOut(workspace).has(story.name) ? ': not settled, so not sold' : ''}`;
