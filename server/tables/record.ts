/** Days and entries as they are written. */

import { doneOf } from '../engine/longview/done';
import { mendedIn } from '../reports/corrections';
import { writtenDate } from '../syntax/day';
import { accountsOf } from '../workspace/accounts';
import { linesOf } from '../workspace/lines';
import { locate } from '../workspace/workspace';
import { counting } from './keys';
import { column, type Row, type TableSource, type TidyTable } from './schema';

export const days: TidyTable = {
  name: 'days',
  means: 'Each day line of the journal, with what is remarked beside it.',
  columns: [
    column('day_line', 'text', 'page and day; a number where it repeats'),
    column('page', 'text', 'file, below the folder of the journal'),
    column('line_number', 'integer', 'counted from 1'),
    column('day', 'day', 'none where no such day exists'),
    column('remark', 'text', 'what stands behind the date'),
  ],
  key: ['day_line'],
  rows: function* ({ shop, workspace, keys }): Iterable<Row> {
    const counter = counting();
    for (const { file, page } of workspace.pages.values()) {
      const lines = linesOf(workspace, file);
      for (const section of page.sections) {
        if (section.kind !== 'day') continue;
        const line = section.lines[0]!;
        const { start, end } = writtenDate(section.text, line);
        const written = section.text.slice(start, end);
        yield {
          shop,
          day_line: counter(`${keys.ofPage(file)}/${written}`),
          page: keys.ofPage(file),
          line_number: lines.positionOf(page.starts.get(section) ?? 0).line,
          day: section.date,
          remark: section.text.slice(end, line.end).trim() || undefined,
        };
      }
    }
  },
};

export const entries: TidyTable = {
  name: 'entries',
  means: 'Each entry as corrected, plans and corrections among them.',
  columns: [
    column('entry', 'text', 'page, day, what is done'),
    column('page', 'text', 'file, below the folder of the journal'),
    column('line_number', 'integer', 'counted from 1'),
    column('day', 'day', 'that it stands under'),
    column('at_time', 'text', 'first clock time, or the last one above it: hh:mm'),
    column('prefix', 'text', 'plan, more, correct or void'),
    column('verb', 'text', 'what is done'),
    column('name', 'text', 'the step, or the lot that it speaks of'),
    column('party', 'text', 'from, to, with or at whom'),
    column('method', 'text', 'of an assay'),
    column('hand', 'text', 'who did it'),
    column('crucible', 'text', 'the pot of the heat'),
    column('furnace', 'text', 'what heated it'),
    column('material', 'text', 'of what went into a step'),
    column('recipe', 'text', 'recipes, or fluxes and reagents added'),
    column('quiet_minutes', 'integer', 'from charged to quiet'),
  ],
  key: ['entry'],
  rows: function* (source): Iterable<Row> {
    const { workspace } = source;
    for (const { file, page } of workspace.pages.values()) {
      const lines = linesOf(workspace, file);
      for (const section of page.sections) {
        const entry = workspace.pages.get(file)!.bySection.get(section);
        if (entry) yield entryRow(source, file, lines.positionOf(locate(workspace, entry.head).start).line, entry);
      }
    }
  },
};

export const corrections: TidyTable = {
  name: 'corrections',
  means: 'Each figure that was corrected, and each entry that was taken back; all other tables follow the corrections.',
  columns: [
    column('correction', 'text', 'the correcting entry; a number where it corrects several figures'),
    column('made_by', 'text', 'the correct or void'),
    column('entry', 'text', 'what it speaks of'),
    column('day', 'day', 'of the correction'),
    column('taken_back', 'boolean', 'the whole entry, by a void'),
    column('says', 'text', 'both readings, the reason, the hand'),
  ],
  key: ['correction'],
  refers: { made_by: 'entries', entry: 'entries' },
  rows: function* ({ shop, workspace, keys }): Iterable<Row> {
    const counter = counting();
    for (const { entry, by, says } of mendedIn(workspace)) {
      yield {
        shop,
        correction: counter(keys.ofEntry(by)),
        made_by: keys.ofEntry(by),
        entry: keys.ofEntry(entry),
        day: by.date,
        taken_back: by.prefix === 'void',
        says,
      };
    }
  },
};

type Entry = Parameters<TableSource['keys']['ofEntry']>[0];

const entryRow = ({ shop, workspace, keys }: TableSource, file: string, line: number, entry: Entry): Row => {
  const step = workspace.book.step(entry);
  // What is corrected is corrected in each column alike: balances and contents follow it too.
  const counted = workspace.book.account(entry).parts.find(({ anchor }) => anchor === entry.anchor) ?? entry;
  const gear = (of: 'crucible' | 'furnace') => counted.gear.find(({ word }) => word === of)?.item.name;
  const done = step && doneOf(step, accountsOf(workspace).metals, workspace.book.make, workspace.workshop);
  return {
    shop,
    entry: keys.ofEntry(entry),
    page: keys.ofPage(file),
    line_number: line,
    day: entry.date,
    at_time: entry.time,
    prefix: entry.prefix,
    verb: entry.verb || undefined,
    name: entry.name?.name,
    party: counted.party?.name,
    method: counted.method?.name,
    hand: counted.said.hand?.name,
    crucible: gear('crucible'),
    furnace: gear('furnace'),
    material: done?.groups.material,
    recipe: done?.groups.recipe,
    quiet_minutes: done?.quietMinutes,
  };
};
