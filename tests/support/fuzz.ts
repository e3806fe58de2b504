/** Real pages, spoilt at random: what must hold of any text that anybody may have in his editor. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { formatEdits } from '../../server/features/format';
import { hintsOf } from '../../server/features/hints';
import { hoverAt } from '../../server/features/hover';
import { findingsOf } from '../../server/rules/findings';
import { WORKSHOP_FILE, withTexts } from '../../server/workspace/update';
import { locate, type Workspace } from '../../server/workspace/workspace';
import { type Random, seeded } from './random';
import { workspaceOf } from './workspace';

const SAMPLES = resolve(__dirname, '../../samples');

/** Entries and headings of the samples, each a text of a few lines. */
const PIECES: readonly string[] = readdirSync(SAMPLES)
  .flatMap((folder) => readdirSync(join(SAMPLES, folder)).map((name) => join(SAMPLES, folder, name)))
  .filter((path) => path.endsWith('.melt'))
  .flatMap((path) => readFileSync(path, 'utf8').split(/(?<=\n\n)/));

const WORKSHOP = readFileSync(join(SAMPLES, 'tarn-end/workshop.yaml'), 'utf8');

/** What slips in between keys, or was made by another program. */
const STRANGE = [
  ...['\u0000', '\u200b', '\u202e', '\ufeff', '\u2028', '\ud83d', '😀', '٣', 'М57', '\r', '\r\n', '\t', '\u00a0'],
  ...['"', '#', '~', '±', '..', '?', '-', '%', '<<<<<<< a\n', '=======\n', '>>>>>>> b\n', '__proto__', 'constructor'],
  ...[
    '9999-12-31\n',
    '0001-01-01\n',
    '2024-02-29\n',
    '2023-02-29\n',
    '24:00',
    '1e999999',
    '0 g',
    '-5 g',
    '0.0000001 g',
  ],
  ...[
    '999999999999999.999 kg',
    '1'.repeat(40),
    'void ',
    'more ',
    'plan ',
    'correct ',
    'relabel A to A\n',
    'seal 2026-05-31\n',
  ],
];

type Spoil = (text: string, random: Random) => string;

const at = (text: string, { whole }: Random): number => whole(0, text.length);

const SPOILS: readonly Spoil[] = [
  (text, random) => {
    const place = at(text, random);
    return text.slice(0, place) + random.pick(STRANGE) + text.slice(place);
  },
  (text, random) => {
    const place = at(text, random);
    return text.slice(0, place) + text.slice(place + random.whole(1, 12));
  },
  (text, random) => {
    const place = at(text, random);
    return text.slice(0, place) + String.fromCharCode(random.whole(0, 0xffff)) + text.slice(place + 1);
  },
  // One digit for another.
  (text, random) => {
    const digits = [...text.matchAll(/\d/g)];
    if (digits.length === 0) return text;
    const { index } = random.pick(digits);
    return text.slice(0, index) + String(random.whole(0, 9)) + text.slice(index + 1);
  },
  // Two lines change places, or one is there twice.
  (text, random) => {
    const lines = text.split('\n');
    const [from, to] = [random.whole(0, lines.length - 1), random.whole(0, lines.length - 1)];
    lines.splice(to, random.whole(0, 1), lines[from]!);
    return lines.join('\n');
  },
  // A word is taken for another of the page: names that do not belong.
  (text, random) => {
    const words = [...text.matchAll(/[^\s#,]+/g)];
    if (words.length < 2) return text;
    const [{ index, 0: word }, [other]] = [random.pick(words), random.pick(words)];
    return text.slice(0, index) + other + text.slice(index + word.length);
  },
];

/** A page of some entries of the samples, spoilt in a few places. The same number gives the same page. */
export const spoiltPage = (number: number): string => {
  const random = seeded(number);
  let text = '2026-05-04\n\n';
  for (let pieces = random.whole(1, 8); pieces > 0; pieces--) text += random.pick(PIECES);
  for (let times = random.whole(0, 6); times > 0; times--) text = random.pick(SPOILS)(text, random);
  return text;
};

const PAGE = 'page.melt';

const applied = (text: string, edits: ReturnType<typeof formatEdits>): string =>
  [...edits].reverse().reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);

const saidOf = (workspace: Workspace): string =>
  JSON.stringify([
    findingsOf(workspace, PAGE).map((one) => [one.code, one.says, locate(workspace, one.place)]),
    hintsOf(workspace, PAGE).map(({ label }) => label),
  ]);

/** What does not hold of a page; empty where all does. An error that is thrown is one. */
export const brokenOf = (text: string, number: number): readonly string[] => {
  const broken: string[] = [];
  const hold = (what: string, holds: boolean): void => {
    if (!holds) broken.push(what);
  };
  try {
    const workspace = workspaceOf({ [PAGE]: text, [WORKSHOP_FILE]: WORKSHOP });
    const { page } = workspace.pages.get(PAGE)!;
    hold('its sections are the text', page.sections.map((section) => section.text).join('') === text);
    for (const { code, place } of findingsOf(workspace, PAGE)) {
      const { file, start, end } = locate(workspace, place);
      if (file === PAGE) hold(`${code} lies in the text`, 0 <= start && start <= end && end <= text.length);
    }
    const random = seeded(number + 1);
    for (let times = 0; times < 4; times++) hoverAt(workspace, PAGE, at(text, random));
    const tidy = applied(text, formatEdits(workspace.pages.get(PAGE)!));
    const again = withTexts(workspace, new Map([[PAGE, tidy]]));
    hold('put in form twice is put in form once', formatEdits(again.pages.get(PAGE)!).length === 0);
    const back = withTexts(again, new Map([[PAGE, text]]));
    hold('an edit taken back leaves what was there', saidOf(back) === saidOf(workspace));
  } catch (error) {
    broken.push(error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
  return broken;
};
