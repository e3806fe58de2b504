/** Long lines of every kind of character, and long pages: they must finish, whatever the clock of the machine says. */
import { expect, test } from 'vitest';
import { pageOf } from '../support/fixture';

/** Long enough to be slow in anything but linear time. */
const LENGTH = 40_000;

const UNITS: readonly string[] = [
  ...[
    'a',
    '9',
    '-',
    '.',
    '/',
    '_',
    ' ',
    '\t',
    '\u00a0',
    ',',
    '"',
    '#',
    '# ',
    '~',
    '?',
    '+',
    '±',
    '<',
    '%',
    '°',
    ':',
    '|',
  ],
  ...['é', '😀', '\u0000', '\u200b', '\ufeff', '\u2028', '\ud800', '٣'],
  ...[
    '1-',
    '1/',
    '1.',
    '1,',
    '1.1.',
    '1+1 ',
    '2026-05-',
    '2026-05-04 ',
    '08:10 ',
    '1 g ',
    'a.',
    'a-',
    '14k ',
    '" ',
    'a"',
  ],
  ...[
    'in A,',
    'in A,keep,',
    'Au 1 %,',
    'Au 1 % ',
    'add x 1 g + 1 g ',
    'melt ',
    'of ',
    'on ',
    'was ',
    'x ',
    '1 ',
    '1 kg,',
  ],
];

const HEADS = ['', 'melt M1\n  ', 'assay A by xrf\n  ', 'melt M1\n  in ', 'melt M1\n  note '];

test.each(UNITS)('a long line of %j', (unit) => {
  for (const head of HEADS) {
    const text = head + unit.repeat(LENGTH / unit.length);
    expect(
      pageOf(text)
        .page.sections.map((section) => section.text)
        .join('') === text,
    ).toBe(true);
  }
});

const LINES = [
  '',
  '<<<<<<< a',
  '=======',
  '>>>>>>> b',
  'melt M1',
  '  in A',
  '"',
  '  "',
  '2026-05-04',
  '#',
  '\r',
  'in',
  '  keep',
];

test.each(LINES)('a page of lines %j', (line) => {
  const text = `${line}\n`.repeat(40_000);
  const before = pageOf(text);
  expect(pageOf(`${text}melt M2`, before).page.text.length).toBe(text.length + 7);
});

test.each(['a', '9', '-', '"', ',', 'in A,', 'Au 1 %,', 'x ', '1-', '1/', '2026-05-'])(
  'a line of a megabyte of %j',
  (unit) => {
    const text = `melt M1\n  ${unit.repeat(1_000_000 / unit.length)}`;
    expect(pageOf(text).page.sections).toHaveLength(1);
  },
);
