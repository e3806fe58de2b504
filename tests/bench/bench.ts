/**
 * Time and memory on made journals: cold open by the built server, and one-character edits at the start, the middle and the end. Prints a table;
 * judges nothing. Each size runs in processes of its own, so that memory is that of one journal.
 */
import { fork } from 'node:child_process';
import { performance } from 'node:perf_hooks';
import { forgetMetals } from '../../server/engine/accounts/memo';
import { hintsOf } from '../../server/features/hints';
import { MOST_REMEMBERED } from '../../server/lsp/server';
import { findingsOf } from '../../server/rules/findings';
import { touchedByMetals } from '../../server/workspace/touched';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import { touchedFiles, type Workspace } from '../../server/workspace/workspace';
import { makeJournal, WORKSHOP } from '../support/journal';
import { measureOpening, type Opening } from './opening';

interface Result {
  readonly lines: number;
  readonly files: number;
  readonly opening: Opening;
  /** The same work without a server, all at once. */
  readonly wholeMs: number;
  readonly wholeCpuMs: number;
  readonly edits: Readonly<Record<string, { p50: number; p95: number; max: number; cpuP50: number }>>;
  readonly residentMb: number;
  readonly findings: number;
}

const EDITS = 60;
const WARM = 20;

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;

/** The line of a weight in the middle of a page, and the text with its last digit changed. */
const edited = (text: string, round: number): string => {
  const lines = text.split('\n');
  const weights = lines.flatMap((line, index) => (/^ {2}(in|out) .* \d+\.\d\d g/.test(line) ? [index] : []));
  const at = weights[Math.floor(weights.length / 2)]!;
  lines[at] = lines[at]!.replace(/(\d)( g)/, (_, _digit: string, unit: string) => `${round % 10}${unit}`);
  return lines.join('\n');
};

/** One edit as the server does it: the page read, what hangs on it computed, findings of the files it touches, hints of its page. */
const edit = (workspace: Workspace, file: string, text: string): Workspace => {
  const next = withTexts(workspace, new Map([[file, text]]));
  const touched = new Set([...touchedFiles(workspace, next), ...touchedByMetals(workspace, next)]);
  for (const one of touched) findingsOf(next, one, one === file ? 'short' : 'none');
  hintsOf(next, file);
  return next;
};

const measure = async (lines: number): Promise<Result> => {
  const files = Math.max(1, Math.round(lines / 833));
  const pages = new Map<string, string>([...makeJournal(lines, files)]);
  const names = [...pages.keys()];
  const opening = await measureOpening(pages, WORKSHOP);
  const start = performance.now();
  const startCpu = process.cpuUsage();
  let workspace = withTexts(emptyWorkspace('bench'), new Map([...pages, ['workshop.yaml', WORKSHOP]]));
  let findings = 0;
  for (const [index, file] of names.entries()) {
    findings += findingsOf(workspace, file).length;
    // As the server does with pages that nobody looks at.
    if (index % MOST_REMEMBERED === MOST_REMEMBERED - 1) forgetMetals();
  }
  const wholeMs = performance.now() - start;
  const wholeCpu = process.cpuUsage(startCpu);
  const edits: Record<string, Result['edits'][string]> = {};
  for (const [where, index] of Object.entries({ start: 0, middle: files >> 1, end: files - 1 })) {
    const file = names[index]!;
    const text = pages.get(file)!;
    const times: number[] = [];
    const cpus: number[] = [];
    for (let round = 0; round < EDITS + WARM; round++) {
      const next = edited(text, round);
      const cpu = process.cpuUsage();
      const from = performance.now();
      workspace = edit(workspace, file, next);
      const took = performance.now() - from;
      const used = process.cpuUsage(cpu);
      if (round >= WARM) {
        times.push(took);
        cpus.push((used.user + used.system) / 1000);
      }
    }
    times.sort((a, b) => a - b);
    cpus.sort((a, b) => a - b);
    edits[where] = {
      p50: quantile(times, 0.5),
      p95: quantile(times, 0.95),
      max: times.at(-1)!,
      cpuP50: quantile(cpus, 0.5),
    };
  }
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
  const untrue = opening.untrue > 0 ? `, after ${opening.untrue} UNTRUE` : '';
  console.log(
    `  server: initialize to the open page's findings    ${one(opening.firstMs)} ms   CPU ${one(opening.firstCpuMs ?? Number.NaN)} ms (${opening.firstFindings}, as at the end${untrue})`,
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
    const figures = `p50${one(edit.p50)}  p95${one(edit.p95)}  max${one(edit.max)} ms   CPU p50${one(edit.cpuP50)} ms`;
    console.log(`  edit at the ${where.padEnd(6)} to findings and hints   ${figures}`);
  }
  console.log(`  resident memory after that                        ${one(result.residentMb)} MB`);
};

const size = process.argv[2];
if (size) void measure(Math.trunc(+size)).then((result) => process.send!(result, () => process.exit(0)));
else {
  console.log(
    'One edit: one digit of a weight in mid page. Read, computed, findings of every touched file, hints of the page.',
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
