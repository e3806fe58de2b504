/**
 * One-character edits as the running server sees them, by a session with a clock moved by hand. On the keystroke: the text read, what hangs on it
 * computed, findings and hints of the whole page. After the pause: all other pages that it touches, whole histories, the record looked back on.
 */
import { performance } from 'node:perf_hooks';
import { openDocument } from '../../server/lsp/document';
import { createSession, LOOK_AFTER_MS, PAUSE_AFTER_MS, type Session, viewOf } from '../../server/lsp/session';
import { HINT_FAMILIES } from '../../server/lsp/settings';
import { shownHints } from '../../server/lsp/still-hints';
import { shownFindings } from '../../server/lsp/stillness';
import { diskChanged, documentClosed, documentOpened, foldersChanged } from '../../server/lsp/texts';
import { tick } from '../../server/lsp/tick';
import { documentChanged } from '../../server/lsp/typing';

export interface Spread {
  readonly p50: number;
  readonly p95: number;
  readonly max: number;
}

export interface EditTimes {
  readonly keystroke: Spread;
  readonly keystrokeCpu: Spread;
  readonly pause: Spread;
  readonly pauseCpu: Spread;
}

interface Timed {
  readonly wall: number;
  readonly cpu: number;
}

const FOLDER = 'file:///bench';
export const idOf = (name: string): string => `${FOLDER}/${name}`;

const FAMILIES = new Set(HINT_FAMILIES);

/** A session that holds the journal. */
export const sessionOf = (pages: ReadonlyMap<string, string>, workshop: string): Session => {
  const session = createSession(true);
  foldersChanged(session, [FOLDER]);
  const files = new Map([...pages, ['workshop.yaml', workshop]]);
  diskChanged(session, new Map([...files].map(([name, text]) => [idOf(name), text])));
  tick(session, 0);
  return session;
};

/** Opens a page, types digit after digit over the last one of a weight in its middle, and closes it. */
export const measureEdits = (session: Session, name: string, warm: number, count: number): EditTimes => {
  const id = idOf(name);
  const text = session.disk.get(id)!;
  documentOpened(session, openDocument(id, id, 1, text));
  const at = digitOf(text);
  look(session, tick(session, 0).files);
  hintsAbout(session, id, at);
  const [keystrokes, pauses]: [Timed[], Timed[]] = [[], []];
  let now = 0;
  for (let round = 0; round < warm + count; round++) {
    now += 10_000;
    const keystroke = timed(() => {
      const { lines } = session.open.get(id)!;
      const range = { start: lines.positionAt(at), end: lines.positionAt(at + 1) };
      documentChanged(session, id, round + 2, [{ range, text: `${round % 10}` }], now);
      hintsAbout(session, id, at);
      look(session, tick(session, now + LOOK_AFTER_MS).files);
    });
    const pause = timed(() => {
      look(session, tick(session, now + PAUSE_AFTER_MS).files);
      hintsAbout(session, id, at);
    });
    if (round < warm) continue;
    keystrokes.push(keystroke);
    pauses.push(pause);
  }
  documentClosed(session, id);
  tick(session, now + 20_000);
  return {
    keystroke: spreadOf(keystrokes.map(({ wall }) => wall)),
    keystrokeCpu: spreadOf(keystrokes.map(({ cpu }) => cpu)),
    pause: spreadOf(pauses.map(({ wall }) => wall)),
    pauseCpu: spreadOf(pauses.map(({ cpu }) => cpu)),
  };
};

/** As the server publishes them: whole histories on open pages alone. */
const look = (session: Session, files: readonly string[]): void => {
  for (const file of files) {
    const view = viewOf(session, file);
    if (view) shownFindings(view, file, session.open.has(file) ? 'short' : 'none');
  }
};

/** Of the lines about the screen, as an editor asks. */
const hintsAbout = (session: Session, id: string, at: number): void => {
  const { lines } = session.open.get(id)!;
  const { line } = lines.positionAt(at);
  const offsetOf = (wanted: number): number => lines.offsetAt({ line: Math.max(0, wanted), character: 0 });
  shownHints(viewOf(session, id)!, id, { start: offsetOf(line - ABOUT), end: offsetOf(line + ABOUT) }, FAMILIES);
};

/** An editor of 40 lines that asks for 70 more each way, as was measured. */
const ABOUT = 90;

/** The last digit of a weight in the middle of a page. */
const digitOf = (text: string): number => {
  const weights = [...text.matchAll(/^ {2}(?:in|out) .* \d+\.\d(?=\d g)/gm)];
  const middle = weights[weights.length >> 1]!;
  return middle.index + middle[0].length;
};

const timed = (work: () => void): Timed => {
  const cpu = process.cpuUsage();
  const start = performance.now();
  work();
  const wall = performance.now() - start;
  const used = process.cpuUsage(cpu);
  return { wall, cpu: (used.user + used.system) / 1000 };
};

const spreadOf = (times: readonly number[]): Spread => {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  return { p50: at(0.5), p95: at(0.95), max: sorted.at(-1)! };
};
