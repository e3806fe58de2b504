/** The lexical rules: lines, blanks, comments, text, names, words, numbers, dates, times. */
import { describe, expect, test } from 'vitest';
import { scan } from '../../server/syntax/tokens';
import type { PieceNode, Section } from '../../server/syntax/tree';
import { pageOf, problemsOf } from '../support/fixture';

const sections = (text: string): readonly Section[] => pageOf(text).page.sections;
const kinds = (text: string): string[] => sections(text).map(({ kind }) => kind);
const codes = (text: string): string[] => problemsOf(pageOf(text)).map(({ code }) => code);
const tokens = (text: string): string[] =>
  scan(text, { start: 0, end: text.length }).map((token) => `${token.kind} ${token.text}`);
const pieces = (text: string, line = 1): readonly PieceNode[] => sections(text)[0]!.lines[line]!.pieces;
const names = (text: string): (string | undefined)[] =>
  sections(text).map(({ lines }) => {
    const value = lines[0]?.pieces[0]?.values[0];
    return value?.shape === 'word' ? value.word.text : undefined;
  });

test('a tab parts a name from what follows it', () => {
  expect(tokens('in B57\t20 g')).toEqual(['word in', 'word B57', 'number 20', 'word g']);
});

describe('lines', () => {
  test.each([
    ['LF', '\n'],
    ['CRLF', '\r\n'],
    ['a lone CR', '\r'],
  ])('end with %s', (_, end) => {
    const text = ['2026-05-04', 'melt M1', '  in A 20 g', '', 'note fine', ''].join(end);
    expect(kinds(text)).toEqual(['day', 'entry', 'entry']);
    expect(codes(text)).toEqual([]);
    expect(
      sections(text)
        .map((section) => section.text)
        .join(''),
    ).toBe(text);
  });

  test('mixed line ends', () => {
    expect(sections('melt M1\r\n  in A\r  in B\n  out C')[0]!.lines).toHaveLength(4);
  });

  test('a byte order mark before the first line counts for nothing', () => {
    expect(kinds('\ufeff2026-05-04\nmelt M1')).toEqual(['day', 'entry']);
    expect(kinds('\ufeffmelt M1\n  in A')).toEqual(['entry']);
    expect(codes('\ufeffmelt M1\n  in A')).toEqual([]);
    expect(kinds('\ufeff# of the shop\nmelt M1')).toEqual(['preamble', 'entry']);
  });

  test('any blank indents, however deep', () => {
    for (const blank of [' ', '  ', '\t', '\u00a0', '\u2003', '\u3000', '          '])
      expect(codes(`melt M1\n${blank}in A`), JSON.stringify(blank)).toEqual([]);
  });

  test('a line at the margin is a day or an entry; an indented one belongs above', () => {
    expect(kinds('2026-05-04 windy\nmelt M1\n  in A\n        out B\ndry D1\n2026-05-05')).toEqual([
      'day',
      'entry',
      'entry',
      'day',
    ]);
  });

  test('blank lines and comments belong to what stands above them', () => {
    const [first, second] = sections('melt M1\n\n# checked\n  in A\n\nmelt M2');
    expect(first!.text).toBe('melt M1\n\n# checked\n  in A\n\n');
    expect(second!.text).toBe('melt M2');
  });

  test('a detail, a time, a reading at the margin lost its indent; a verb did not', () => {
    expect(kinds('assay A by xrf\nAu 91 %\nin B\n08:10 x\nnote y\ndiscard A')).toEqual(['entry', 'entry', 'entry']);
    expect(codes('assay A by xrf\nAu 91 %')).toEqual(['missing-indent']);
  });
});

describe('comments', () => {
  test('begin with # and a blank, at the start or after a blank', () => {
    expect(tokens('in A # whole, of it')).toEqual(['word in', 'word A', 'comment # whole, of it']);
    expect(tokens('#')).toEqual(['comment #']);
    expect(tokens('in A #')).toEqual(['word in', 'word A', 'comment #']);
    expect(tokens('# accepted x: y')).toEqual(['comment # accepted x: y']);
    expect(tokens('a# b')).toEqual(['word a', 'odd #', 'word b']);
  });

  test('`bag #4` is text', () => {
    const [note] = pieces('melt M1\n  note bag #4, tied # by the door');
    expect(note!.values[0]).toMatchObject({ shape: 'text', text: 'bag #4, tied' });
  });

  test('a day may have one', () => {
    expect(sections('2026-05-04 windy # later')[0]!.lines[0]!.comment).toEqual({ start: 17, end: 24 });
  });

  test('a # in quotes is none', () => {
    expect(tokens('in "a # b" 2 g')).toEqual(['word in', 'quoted "a # b"', 'number 2', 'word g']);
  });
});

describe('text', () => {
  test('runs to the end of the line, commas and all', () => {
    expect(pieces('melt M1\n  keep, note stirred, twice')[1]!.values[0]).toMatchObject({ text: 'stirred, twice' });
    expect(pieces('melt M1\n  lost 2 g because boiled, over')[1]!.values[0]).toMatchObject({ text: 'boiled, over' });
    expect(sections('melt M1\n  08:10 poured, slowly')[0]!.lines[1]!.clock!.text.text).toBe('poured, slowly');
    expect(sections('note furnace relined, by us')[0]!.lines[0]!.pieces).toHaveLength(1);
  });

  test('may hold anything that can be typed', () => {
    expect(codes('2026-05-04 = ; “windy” | 😀\nnote = ; 61,37 “x” 😀')).toEqual([]);
    expect(codes('melt M1\n  08:10 = ; 61,37 \u200d 😀')).toEqual([]);
  });

  test('an entry behind a date is told; words of the day that are verbs too are not', () => {
    expect(codes('2026-06-02 receive C1 20 g')).toEqual(['swallowed-detail']);
    expect(codes('2026-06-02 plan melt M7')).toEqual(['swallowed-detail']);
    expect(codes('2026-06-02 dry, 2 of us')).toEqual([]);
    expect(codes('2026-06-02 melt day')).toEqual([]);
    expect(codes('2026-06-02 # melt M7')).toEqual([]);
  });

  test('a swallowed detail is told only where a flow with a figure follows', () => {
    expect(codes('melt M1\n  note hot, in the end')).toEqual([]);
    expect(codes('melt M1\n  note hot, in all of 3 g')).toEqual(['swallowed-detail']);
  });
});

describe('names', () => {
  test('letters of any script, digits, - _ . /', () => {
    const good = [
      'TE-31',
      'B57.slag-2',
      'a_b',
      '26/57a',
      'Zürich-1',
      'λ7',
      '14k-chips',
      '3b',
      'A',
      'slag-7',
      '金1',
      '𝒜1',
    ];
    for (const name of good) {
      expect(names(`receive ${name} 20 g`), name).toEqual([name]);
      expect(codes(`receive ${name} 20 g`), name).toEqual([]);
    }
  });

  test('compared as typed: case is kept', () => {
    expect(names('receive te-31\nreceive TE-31')).toEqual(['te-31', 'TE-31']);
  });

  test('do not end in a joiner, and hold no ..', () => {
    expect(tokens('B57. B57.. 22..30')).toEqual([
      'word B57',
      'odd .',
      'word B57',
      'mark ..',
      'number 22',
      'mark ..',
      'number 30',
    ]);
  });

  test('anything at all in quotes', () => {
    expect(names('receive "old ring, 2 g # x" 20 g')).toEqual(['old ring, 2 g # x']);
    expect(codes('receive "dry" 20 g\nreceive "0041" 20 g\nmelt "2026-05-04"')).toEqual([]);
  });

  test('words, units and symbols need quotes; a single capital does not', () => {
    for (const name of ['melt', 'Dry', 'in', 'keep', 'slag', 'hot', 'g', 'ozt', 'Au', 'Ag'])
      expect(codes(`weigh ${name} 20 g`), name).toEqual(['name-needs-quotes']);
    for (const name of ['A', 'B', 'C', 'K', 'L', 'V']) expect(codes(`weigh ${name} 20 g`), name).toEqual([]);
  });

  test('hidden characters inside are reported, and the name is read without them', () => {
    expect(names('receive B\u200b57\u00ad 20 g')).toEqual(['B57']);
    expect(codes('receive B\u200b57\u00ad 20 g')).toEqual(['hidden-character', 'hidden-character']);
  });
});

describe('words', () => {
  test('upper case is understood', () => {
    expect(sections('MELT M1\n  IN A 20 g\n  Out B 19 g BUTTON')[0]).toMatchObject({ verb: { row: { word: 'melt' } } });
    expect(codes('MELT M1\n  IN A 20 g\n  Out B 19 g BUTTON')).toEqual([]);
  });

  test('In is indium before a proportion, else in; At likewise', () => {
    expect(pieces('assay A by icp\n  In 2 %').map(({ kind }) => kind)).toEqual(['reading']);
    expect(pieces('melt M1\n  In A 2 g').map(({ kind }) => kind)).toEqual(['detail']);
    expect(pieces('melt M1\n  In 2 g of A').map(({ kind }) => kind)).toEqual(['detail']);
    expect(pieces('receive A 2 g\n  At strongbox').map(({ kind }) => kind)).toEqual(['remark']);
  });

  test('symbols and units keep their case', () => {
    expect(codes('assay A by xrf\n  AU 91 %')).toEqual(['unknown-word']);
    expect(codes('receive A 20 G')).toEqual(['unknown-unit']);
  });
});

describe('numbers, dates and times', () => {
  test.each([
    ['58.16g', ['number 58.16', 'word g']],
    ['92%', ['number 92', 'word %']],
    ['20°C', ['number 20', 'word °C']],
    ['14k', ['number 14', 'word k']],
    ['24 g/t', ['number 24', 'word g/t']],
    ['24g/t', ['number 24', 'word g/t']],
    ['58.16/58.15', ['number 58.16', 'mark /', 'number 58.15']],
    ['61,37', ['comma-number 61,37']],
    ['2 g,3 g', ['number 2', 'word g', 'comma ,', 'number 3', 'word g']],
    ['2026-05-04', ['date 2026-05-04']],
    ['2026-05-04-A', ['word 2026-05-04-A']],
    ['08:10', ['time 08:10']],
    ['8:10', ['time 8:10']],
    ['±0.3 +-0.3', ['mark ±', 'number 0.3', 'mark +-', 'number 0.3']],
    ['~?<>', ['mark ~', 'mark ?', 'mark <', 'mark >']],
    ['USD/ozt', ['word USD/ozt']],
    ['😀', ['odd 😀']],
  ])('%s', (text, expected) => {
    expect(tokens(text)).toEqual(expected);
  });

  test('a number is kept as typed', () => {
    const value = pieces('receive A 058.10 g', 0)[0]!.values[1];
    expect(value).toMatchObject({ shape: 'amount', parts: [{ text: '058.10' }] });
  });

  test('a minus only before a temperature', () => {
    expect(codes('assay A by density\n  water 2 g -4 °C')).toEqual([]);
    expect(codes('receive A -4 g')).toEqual(['odd-number']);
  });
});
