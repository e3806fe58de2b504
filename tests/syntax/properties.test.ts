/** What holds for every text: nothing is lost, nothing throws, and an edit gives what parsing anew gives. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { JournalPage } from '../../server/journal/page';
import { parsePage } from '../../server/syntax/parse';
import type { LineNode, Page, Section, Value } from '../../server/syntax/tree';
import type { Span } from '../../server/text/span';
import { pageOf } from '../support/fixture';

const WORDS = [
  ...[
    'melt',
    'receive',
    'cupel',
    'assay',
    'ship',
    'settle',
    'note',
    'quote',
    'relabel',
    'seal',
    'plan',
    'more',
    'void',
  ],
  ...['in', 'out', 'add', 'lost', 'crucible', 'expect', 'pays', 'charge', 'tare', 'before', 'keep', 'owner', 'because'],
  ...['from', 'to', 'of', 'by', 'at', 'on', 'until', 'was', 'gross', 'none', 'nd', 'expanded', 'button', 'slag', 'dry'],
  ...['B57', 'TE-31', 'bench', '"old ring"', '"', '14k', 'Au', 'Ag', 'In', 'xrf', 'USD', 'USD/ozt', 'spoon'],
  ...['58.16', '58.16 g', '61,37', '1,200', '.5', '5.', '~', '?', '±', '+', '/', '..', '<', '-', '%', '°C', 'g', 'kg'],
  ...['2026-05-04', '2026-5-4', '08:10', '24:61', '# ', '#', ',', ', ', ' ', '  ', '\t', '\u00a0', '\ufeff', '\u200b'],
  ...[
    '\n',
    '\n',
    '\n  ',
    '\n  ',
    '\r\n',
    '\r',
    '\n\n',
    '\u0000',
    '😀',
    'é',
    '\u2028',
    '<<<<<<< a\n',
    '=======\n',
    '>>>>>>> b\n',
  ],
];

const pieces = fc.array(fc.oneof(fc.constantFrom(...WORDS), fc.string({ unit: 'binary', maxLength: 4 })), {
  maxLength: 60,
});
const texts = fc.oneof(
  pieces.map((words) => words.join('')),
  pieces.map((words) => words.join(' ')),
  fc.string({ unit: 'binary', maxLength: 80 }),
);

describe('any text', () => {
  test('parses and is read without throwing; its sections end to end are the text', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const { page } = pageOf(text);
        expect(page.sections.map((section) => section.text).join('')).toBe(text);
        let start = 0;
        for (const section of page.sections) {
          expect(page.starts.get(section)).toBe(start);
          start += section.text.length;
        }
      }),
      { numRuns: 1500 },
    );
  });

  test('has nodes that nest, and between the pieces of a line only blanks, commas and what has been said to mean nothing', () => {
    fc.assert(
      fc.property(texts, (text) => {
        for (const section of pageOf(text).page.sections) checkSection(section);
      }),
      { numRuns: 1500 },
    );
  });

  test('after an edit gives the same trees and entries as parsing anew, and the same objects where nothing changed', () => {
    const edit = fc.record({
      text: texts,
      from: fc.double({ min: 0, max: 1, noNaN: true }),
      size: fc.nat(20),
      put: texts,
    });
    fc.assert(
      fc.property(edit, ({ text, from, size, put }) => {
        const before = pageOf(text);
        const at = Math.floor(from * text.length);
        const next = text.slice(0, at) + put + text.slice(at + size);
        const after = pageOf(next, before);
        const anew = pageOf(next);
        expect(after.page.sections).toEqual(anew.page.sections);
        expect(after.page.sections.map(({ lines }) => lines)).toEqual(anew.page.sections.map(({ lines }) => lines));
        expect(after.entries).toEqual(anew.entries);
        for (const index of ['byLot', 'byStep', 'byMaterial'] as const) expect(after[index]).toEqual(anew[index]);
        expectKept(before, after);
      }),
      { numRuns: 800 },
    );
  });
});

/** What opens a section, belongs to the one above or looks far ahead. */
const PIECES = [
  '\n',
  '\r',
  '\r\n',
  ' ',
  '  in A',
  'A',
  'u',
  'Au',
  '5',
  'melt M1',
  '2026-05-05',
  '# ',
  '<<<<<<< a',
  '=======',
  '>>>>>>> b',
  '\uFEFF',
];

test('a long page after many edits is divided as if it were read anew, whatever was put between its entries', () => {
  const text = readFileSync(join(__dirname, '../../samples/mistakes/mistakes.melt'), 'utf8').slice(0, 1500);
  const edit = fc.record({
    at: fc.nat(text.length),
    size: fc.oneof(fc.nat(3), fc.nat(400)),
    put: fc.array(fc.constantFrom(...PIECES), { maxLength: 4 }),
  });
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
      let page = parsePage('a.melt', text);
      for (const { at, size, put } of edits) {
        page = parsePage('a.melt', page.text.slice(0, at) + put.join('') + page.text.slice(at + size), page);
        expectAsAnew(page);
      }
    }),
    { numRuns: 400 },
  );
});

test.each(['', 'melt M2\n  in B 2 g\n', '  out C 1 g\n\n2026-05-06\nmelt M3\n', '08:20 stirred\n>>>>>>> b\n'])(
  'a page typed letter by letter is divided as if it were read anew, above %j',
  (below) => {
    const typed =
      '2026-05-05\nmelt M1\nin A 5 g\nAu 90 %\n08:10 poured\n# so\n<<<<<<< a\nmelt M4\n=======\n>>>>>>> b\n';
    let page = parsePage('a.melt', below);
    for (let to = 1; to <= typed.length; to++) {
      page = parsePage('a.melt', typed.slice(0, to) + below, page);
      expectAsAnew(page);
    }
    for (let to = typed.length; to >= 0; to--) {
      page = parsePage('a.melt', typed.slice(0, to) + below, page);
      expectAsAnew(page);
    }
  },
);

const expectAsAnew = (page: Page): void => {
  const told = (of: Page) => of.sections.map((one) => [one.kind, one.cut, one.text, of.starts.get(one)]);
  expect(told(page)).toEqual(told(parsePage('a.melt', page.text)));
  expect(new Set(page.sections).size).toBe(page.sections.length);
};

/** However a page is edited, a section whose text stands once before and once after is the same object. */
const expectKept = (before: JournalPage, after: JournalPage): void => {
  const old = countTexts(before.page);
  const now = countTexts(after.page);
  for (const section of after.page.sections) {
    if (old.get(section.text) !== 1 || now.get(section.text) !== 1) continue;
    const same = before.page.sections.find(({ text }) => text === section.text)!;
    if (same.kind === section.kind && same.cut === section.cut) expect(section).toBe(same);
  }
};

const countTexts = (page: Page): Map<string, number> => {
  const counts = new Map<string, number>();
  for (const { text } of page.sections) counts.set(text, (counts.get(text) ?? 0) + 1);
  return counts;
};

const within = (inner: Span, outer: Span): void => {
  expect(inner.start).toBeLessThanOrEqual(inner.end);
  expect(inner.start).toBeGreaterThanOrEqual(outer.start);
  expect(inner.end).toBeLessThanOrEqual(outer.end);
};

const inOrder = (nodes: readonly Span[], outer: Span): void => {
  nodes.forEach((node, index) => {
    within(node, outer);
    if (index > 0) expect(node.start).toBeGreaterThanOrEqual(nodes[index - 1]!.end);
  });
};

const checkSection = (section: Section): void => {
  inOrder(section.lines, { start: 0, end: section.text.length });
  for (const problem of section.problems) {
    within(problem, { start: 0, end: section.text.length });
    if (problem.mend) within(problem.mend, { start: 0, end: section.text.length });
  }
  for (const line of section.lines) checkLine(section, line);
};

const checkLine = (section: Section, line: LineNode): void => {
  inOrder([...line.pieces, ...(line.comment ? [line.comment] : [])], line);
  for (const piece of line.pieces) {
    inOrder(piece.readings, piece);
    inOrder(piece.values, piece);
    for (const value of piece.values) checkValue(value, piece);
    if (piece.word) within(piece.word, piece);
    if (piece.scale) within(piece.scale, piece);
  }
  if (line.clock) {
    within(line.clock, line);
    within(line.clock.text, line.clock);
  }
  if (line.kind === 'head' || line.kind === 'details') checkGaps(section, line);
};

const checkValue = (value: Value, piece: Span): void => {
  if (value.lead) within(value.lead, piece);
  if (value.was) within(value.was, piece);
  if (value.shape === 'amount') inOrder(value.parts, value);
};

/** Between pieces stand blanks and commas, and hidden characters that have been reported. */
const checkGaps = (section: Section, line: LineNode): void => {
  const hidden = new Set(section.problems.filter(({ code }) => code === 'hidden-character').map(({ start }) => start));
  const nodes = [...line.pieces, ...(line.comment ? [line.comment] : [])];
  let at = line.start;
  for (const node of [...nodes, { start: line.end, end: line.end }]) {
    for (; at < node.start; at++) {
      const blank = /[\s\ufeff\u1680\u3000,]/u.test(section.text[at]!);
      expect(blank || hidden.has(at), `${JSON.stringify(section.text)} at ${at}`).toBe(true);
    }
    at = node.end;
  }
};
