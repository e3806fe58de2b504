/**
 * Time and memory on made journals: cold open by the built server, and one-character edits at the start, the middle and the end. Prints a table;
 * judges nothing. Each size runs in processes of its own, so that memory is that of one journal.
 */
import { fork } from 'node:child_process';
import { performance } from 'node:perf_hooks';
import { forgetMetals } from '../../server/engine/accounts/memo';
import { MOST_REMEMBERED } from '../../server/lsp/server';
import { journalOf } from '../../server/lsp/session';
import { findingsOf } from '../../server/rules/findings';
import { makeJournal, WORKSHOP } from '../support/journal';
import { type EditTimes, idOf, measureEdits, type Spread, sessionOf } from './edits';
import { measureOpening, type Opening } from './opening';

interface Result {
  readonly lines: number;
  readonly files: number;
  readonly opening: Opening;
  /** The same work without a server, all at once. */
  readonly wholeMs: number;
  readonly wholeCpuMs: number;
  readonly edits: Readonly<Record<string, EditTimes>>;
  readonly residentMb: number;
  readonly findings: number;
}

const EDITS = 60;
const WARM = 20;

const measure = async (lines: number): Promise<Result> => {
  const files = Math.max(1, Math.round(lines / 833));
  const pages = new Map<string, string>([...makeJournal(lines, files)]);
  const names = [...pages.keys()];
  const opening = await measureOpening(pages, WORKSHOP);
  const start = performance.now();
  const startCpu = process.cpuUsage();
  const session = sessionOf(pages, WORKSHOP);
  let findings = 0;
  for (const [index, name] of names.entries()) {
    const id = idOf(name);
    findings += findingsOf(journalOf(session, id)!.live, id).length;
    // As the server does with pages that nobody looks at.
    if (index % MOST_REMEMBERED === MOST_REMEMBERED - 1) forgetMetals();
  }
  const wholeMs = performance.now() - start;
  const wholeCpu = process.cpuUsage(startCpu);
  const edits: Record<string, EditTimes> = {};
  for (const [where, index] of Object.entries({ start: 0, middle: files >> 1, end: files - 1 }))
    edits[where] = measureEdits(session, names[index]!, WARM, EDITS);
  const actual = [...pages.values()].reduce((sum, page) => sum + page.split('\n').length - 1, 0);
  return {
    lines: actual,
    files,
    opening,
    wholeMs,
    wholeCpuMs: (wholeCpu.user + wholeCpu.system) / 1000,
    edits,
    residentMb: process.memoryUsage().rss / 2 ** 20,
    findings,
  };
};

const one = (value: number): string => value.toFixed(1).padStart(8);

const print = (result: Result): void => {
  console.log(`\n${result.lines} lines, ${result.files} files, ${result.findings} findings`);
  const { opening } = result;
  const untrue = opening.untrue > 0 ? `, ${opening.untrue} of them UNTRUE` : '';
  console.log(
    `  server: initialize to the open page's findings    ${one(opening.firstMs)} ms   CPU ${one(opening.firstCpuMs ?? Number.NaN)} ms (${opening.firstFindings}${untrue}; ${opening.later} more with the whole record)`,
  );
  console.log(
    `  server: initialize to all findings                ${one(opening.allMs)} ms   CPU ${one(opening.cpuMs ?? Number.NaN)} ms`,
  );
  console.log(
    `  server: first answer meanwhile                    ${one(opening.firstAnswerMs)} ms   then at most ${one(opening.longestAnswerMs)} ms (${opening.answers} asked)`,
  );
  console.log(`  server: resident memory                           ${one(opening.residentMb ?? Number.NaN)} MB`);
  console.log(
    `  computed whole, without server                    ${one(result.wholeMs)} ms   CPU ${one(result.wholeCpuMs)} ms`,
  );
  for (const [where, edit] of Object.entries(result.edits)) {
    const figures = ({ p50, p95, max }: Spread, cpu: Spread): string =>
      `p50${one(p50)}  p95${one(p95)}  max${one(max)} ms   CPU p50${one(cpu.p50)}  p95${one(cpu.p95)} ms`;
    console.log(
      `  edit at the ${where.padEnd(6)}, findings and hints    ${figures(edit.keystroke, edit.keystrokeCpu)}`,
    );
    console.log(`    in the pause, all else that it changes   ${figures(edit.pause, edit.pauseCpu)}`);
  }
  console.log(`  resident memory after that                        ${one(result.residentMb)} MB`);
};

const size = process.argv[2];
if (size) void measure(Math.trunc(+size)).then((result) => process.send!(result, () => process.exit(0)));
else {
  console.log(
    'One edit: one digit of a weight in mid page. On the keystroke: read, computed, findings of the page and hints about the screen. In the pause: the rest.',
  );
  const run = (lines: number): Promise<Result> =>
    new Promise((resolve, reject) => {
      const child = fork(process.argv[1]!, [`${lines}`]);
      child.once('message', (result) => resolve(result as Result));
      child.once('error', reject);
    });
  (async () => {
    for (const lines of [1_000, 10_000, 100_000]) print(await run(lines));
  })();
}
