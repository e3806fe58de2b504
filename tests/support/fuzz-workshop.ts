/** The sample's workshop file, spoilt at random, byte by byte and by what means something in it: what must hold of any. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { completionsAt } from '../../server/features/completion';
import { hoverAt } from '../../server/features/hover';
import { decodeUtf8 } from '../../server/files/utf8';
import { findingsOf } from '../../server/rules/findings';
import { WORKSHOP_FILE, withTexts } from '../../server/workspace/update';
import { locate, type Workspace } from '../../server/workspace/workspace';
import { type Random, seeded } from './random';
import { workspaceOf } from './workspace';

const WORKSHOP = readFileSync(resolve(__dirname, '../../samples/tarn-end/workshop.yaml'), 'utf8');

const PAGE = `2026-05-04

receive A1 from own-dredge
  61.37 g on bench
  material black-sand

melt M1, crucible C4, furnace F1
  in A1
  add flux-3 20.00 g
  out B1 58.20 g button on bench
`;

const STRANGE = [
  ...[
    '&a ',
    '*a',
    '<<: *a',
    '!!js/function ',
    '!tag ',
    '---\n',
    '...\n',
    '%YAML 1.2\n',
    '? ',
    '| ',
    '>-\n',
    "'",
    '"',
    '#',
  ],
  ...[
    '[',
    ']',
    '{',
    '}',
    ': ',
    ':\n',
    '- ',
    ',',
    '\t',
    '\u0000',
    '\ufeff',
    '\u2028',
    '\u202e',
    '\ud83d',
    '😀',
    '\r',
    '\r\n',
  ],
  ...[
    '__proto__',
    'constructor',
    'toString',
    '1e999999',
    '-5 g',
    '0 g',
    '.inf',
    '.nan',
    '0x1f',
    '1_000 g',
    '~',
    'null',
    'yes',
  ],
  ...['[['.repeat(60), '{a: '.repeat(60), '9'.repeat(60), '<<<<<<< a\n', '=======\n', '>>>>>>> b\n'],
];

type Spoil = (bytes: Buffer, random: Random) => Buffer;

const cut = (bytes: Buffer, from: number, to: number, put: Buffer = Buffer.alloc(0)): Buffer =>
  Buffer.concat([bytes.subarray(0, from), put, bytes.subarray(Math.max(from, to))]);

const SPOILS: readonly Spoil[] = [
  (bytes, { whole, pick }) => {
    const place = whole(0, bytes.length);
    return cut(bytes, place, place, Buffer.from(pick(STRANGE)));
  },
  (bytes, { whole }) => {
    const place = whole(0, bytes.length);
    return cut(bytes, place, place + whole(1, 40));
  },
  (bytes, { whole }) => {
    const place = whole(0, bytes.length);
    return cut(bytes, place, place + 1, Buffer.of(whole(0, 255)));
  },
  // A stretch of lines is there twice, deeper or less deep.
  (bytes, { whole }) => {
    const lines = bytes.toString('latin1').split('\n');
    const from = whole(0, lines.length - 1);
    const some = lines.slice(from, from + whole(1, 6)).map((line) => ' '.repeat(whole(0, 3)) + line);
    lines.splice(whole(0, lines.length), 0, ...some);
    return Buffer.from(lines.join('\n'), 'latin1');
  },
];

/** The same number gives the same bytes. */
export const spoiltWorkshop = (number: number): Buffer => {
  const random = seeded(number);
  let bytes: Buffer = Buffer.from(WORKSHOP);
  for (let times = random.whole(1, 6); times > 0; times--) bytes = random.pick(SPOILS)(bytes, random);
  return bytes;
};

const saidOf = (workspace: Workspace): string =>
  JSON.stringify(
    [WORKSHOP_FILE, 'page.melt'].map((file) =>
      findingsOf(workspace, file).map((one) => [one.code, one.says, locate(workspace, one.place)]),
    ),
  );

/** What does not hold; empty where all does. Bytes that are no text are refused with a place in them. */
export const brokenWorkshop = (bytes: Uint8Array, number: number): readonly string[] => {
  const broken: string[] = [];
  const hold = (what: string, holds: boolean): void => {
    if (!holds) broken.push(what);
  };
  try {
    const decoded = decodeUtf8(bytes);
    if (!decoded.ok) {
      hold('the bad byte lies in the file', !('offset' in decoded) || bytes[decoded.offset] === decoded.byte);
      return broken;
    }
    const { text } = decoded;
    const workspace = workspaceOf({ 'page.melt': PAGE, [WORKSHOP_FILE]: text });
    for (const file of [WORKSHOP_FILE, 'page.melt'])
      for (const { code, place } of findingsOf(workspace, file)) {
        const at = locate(workspace, place);
        const { length } = at.file === WORKSHOP_FILE ? text : PAGE;
        hold(`${code} lies in the text`, 0 <= at.start && at.start <= at.end && at.end <= length);
      }
    const random = seeded(number + 1);
    for (let times = 0; times < 4; times++) {
      const place = random.whole(0, text.length);
      hoverAt(workspace, WORKSHOP_FILE, place);
      completionsAt(workspace, WORKSHOP_FILE, place, '2026-05-04');
    }
    const other = withTexts(workspace, new Map([[WORKSHOP_FILE, WORKSHOP]]));
    const back = withTexts(other, new Map([[WORKSHOP_FILE, text]]));
    hold('an edit taken back leaves what was there', saidOf(back) === saidOf(workspace));
    hold('nothing leaks into what every object has', !('polluted' in {}) && Object.keys(Object.prototype).length === 0);
  } catch (error) {
    broken.push(error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
  return broken;
};
