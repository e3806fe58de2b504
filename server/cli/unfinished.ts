/** `fineweight unfinished`: what must still be weighed or written, the oldest first. */
import { isPage } from '../files/names';
import { type Unfinished, unfinishedOf } from '../reports/unfinished';
import { stepWords } from '../reports/words';
import { visible } from '../text/visible';
import { linesOf } from '../workspace/lines';
import { locate, type Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import { type Opened, shortPath } from './journals';
import type { Paint } from './paint';
import { markedLines } from './print';
import { type JsonRange, rangeIn } from './report';

export interface JsonUnfinished extends JsonRange {
  /** The day of its entry, `YYYY-MM-DD`; null above the first day line. */
  readonly date: string | null;
  /** The entry, as `melt M57`. */
  readonly entry: string;
  readonly says: string;
  /** The step that it closes or checks; null where it closes none. */
  readonly closes: string | null;
}

export interface JsonUnfinishedReport {
  /** Grows when a field changes its name or meaning. */
  readonly version: 1;
  readonly unfinished: readonly JsonUnfinished[];
  /** Sentences on what could not be read; the exit code is then 2. */
  readonly failures: readonly string[];
}

/** Exit 0 whether something is open or not: a journal that is being written is no mistake. */
export const unfinished = (opened: Opened, format: 'text' | 'json', paint: Paint): Outcome => {
  const found = opened.journals.flatMap(({ workspace, asked }) =>
    unfinishedOf(workspace, asked.filter(isPage)).map((item) => ({ workspace, item })),
  );
  const exit = opened.failures.length > 0 ? 2 : 0;
  if (format === 'json') {
    const report: JsonUnfinishedReport = {
      version: 1,
      unfinished: found.map(({ workspace, item }) => toJson(workspace, item)),
      failures: opened.failures,
    };
    return { text: `${JSON.stringify(report, null, 2)}\n`, exit };
  }
  const texts = found.map(({ workspace, item }) => itemText(workspace, item, paint));
  const end = opened.journals.length > 0 ? [summaryOf(found.map(({ item }) => item))] : [];
  return { text: [...texts, ...end].map((part) => `${part}\n`).join(texts.length > 0 ? '\n' : ''), exit };
};

const itemText = (workspace: Workspace, { place, says }: Unfinished, paint: Paint): string => {
  const { file, ...range } = locate(workspace, place);
  const lines = linesOf(workspace, file);
  const { line, column } = lines.positionOf(range.start);
  const where = `${visible(shortPath(file))}:${line}:${column}`;
  return [`${paint('bold', where)}: ${visible(says)}`, ...markedLines(lines, range, 'cyan', paint)].join('\n');
};

const summaryOf = (items: readonly Unfinished[]): string => {
  const [oldest] = items;
  if (!oldest) return 'Nothing is left to weigh or to write.';
  const since = oldest.entry.date === undefined ? '' : `, the oldest of ${oldest.entry.date}`;
  return `${items.length === 1 ? '1 thing' : `${items.length} things`} left to weigh or to write${since}.`;
};

const toJson = (workspace: Workspace, { place, entry, says, closes }: Unfinished): JsonUnfinished => ({
  ...rangeIn(workspace, locate(workspace, place)),
  date: entry.date ?? null,
  entry: stepWords(entry),
  says,
  closes: closes ?? null,
});
