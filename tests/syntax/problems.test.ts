/** Every problem of the form: what is said, where, and what the mend makes of it. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { described, marksOf, mended, pageOf, problemsOf } from '../support/fixture';

interface Case {
  readonly name: string;
  readonly text: string;
  /** The first marked line after its mend. */
  readonly mends?: string;
  readonly wanted?: string;
}

const CASES: readonly Case[] = [
  {
    name: 'a verb mistyped',
    text: 'recieve A 20 g\n# <^^^^ unknown-verb',
    mends: 'receive A 20 g',
    wanted: 'receive',
  },
  { name: 'a name where the verb should be', text: 'M57b poured\n# <^ unknown-verb' },
  { name: 'a line of commas', text: ', , ,\n# <^^ unknown-verb' },
  { name: 'a prefix alone', text: 'plan\n# <^ missing-part', wanted: 'a verb' },
  {
    name: 'a detail mistyped',
    text: 'melt M1\n  owt S57 30 g\n# ^^^ unknown-word',
    mends: '  out S57 30 g',
    wanted: 'out',
  },
  { name: 'a word that is none of ours', text: 'melt M1\n  stirred well\n# ^^^^^^^ unknown-word' },
  {
    name: 'a detail of another verb',
    text: 'weigh A 20 g\n  add borax-glass 10 g\n# ^^^ misplaced-detail',
    wanted: 'weigh',
  },
  { name: 'an assay under a melt', text: 'melt M1\n  Au 91 %, Ag 8 %\n# ^^ misplaced-detail', wanted: 'melt' },
  { name: 'a bare weight under a melt', text: 'melt M1\n  58.16 g\n# ^^^^^^^ misplaced-detail', wanted: 'melt' },
  { name: 'a name left out', text: 'receive 20 g\n# <^^^^^^^^^ missing-part', wanted: "a lot's name" },
  {
    name: 'a lot of which the name is not known',
    text: 'melt M1\n  in ? 20 g\n#    ^ missing-part',
    wanted: "a lot's name",
  },
  { name: 'an entry without its name', text: 'melt ?\n#    ^ missing-part', wanted: 'a name' },
  {
    name: 'a lead word with nothing behind it',
    text: 'receive A from\n#         ^^^^ missing-part',
    wanted: "a party's name",
  },
  { name: 'a scale left out', text: 'receive A 20 g on\n#              ^^ missing-part', wanted: 'a scale' },
  {
    name: 'a remark without its part',
    text: 'receive A 20 g, owner\n#               ^^^^^ missing-part',
    wanted: "a party's name",
  },
  { name: 'a note without text', text: 'melt M1\n  note\n# ^^^^ missing-part', wanted: 'a text' },
  {
    name: 'a led slot left out',
    text: 'assay A\n# <^^^^ missing-part',
    wanted: '`by` and a method',
  },
  {
    name: 'a kind mistyped',
    text: 'melt M1\n  out B57 58.16 g buton\n#                 ^^^^^ stray-part',
    mends: '  out B57 58.16 g button',
    wanted: 'button',
  },
  {
    name: 'a metal by its name',
    text: 'quote gold 2480 USD/ozt\n#     ^^^^ stray-part',
    mends: 'quote Au 2480 USD/ozt',
  },
  { name: 'a date among details', text: 'melt M1\n  in A, 2026-05-04\n#       ^^^^^^^^^^ stray-part' },
  { name: 'a time among details', text: 'melt M1, 08:10 poured\n#        ^^^^^ stray-part' },
  {
    name: 'a list of lots',
    text: 'melt M1\n  in A, B\n#       ^ comma-list',
    mends: '  in A, in B',
    wanted: 'in',
  },
  {
    name: 'a list of lots weighed',
    text: 'melt M1\n  in A 1 g, C 2 g\n#           ^ comma-list',
    mends: '  in A 1 g, in C 2 g',
  },
  {
    name: 'a list of shares',
    text: 'settle V1\n  pays Au 98 %, Ag 90 %\n#               ^^ comma-list',
    mends: '  pays Au 98 %, pays Ag 90 %',
  },
  {
    name: 'a lot called like a word',
    text: 'receive dry 20 g\n#       ^^^ name-needs-quotes',
    mends: 'receive "dry" 20 g',
  },
  {
    name: 'a lot called like karat',
    text: 'receive 14k 20 g\n#       ^^^ name-needs-quotes',
    mends: 'receive "14k" 20 g',
  },
  {
    name: 'a lot called by a number',
    text: 'receive 0041 20 g\n#       ^^^^ name-needs-quotes',
    mends: 'receive "0041" 20 g',
  },
  {
    name: 'a lot called by two numbers',
    text: 'receive 26-057 20 g\n#       ^^^^^^ name-needs-quotes',
    mends: 'receive "26-057" 20 g',
  },
  { name: 'a step called by a number', text: 'melt 57\n#    ^^ name-needs-quotes', mends: 'melt "57"' },
  { name: 'a step called like a weight', text: 'melt 57 g\n#    ^^^^ name-needs-quotes', mends: 'melt "57 g"' },
  {
    name: 'a crucible called by a number',
    text: 'melt M1, crucible 4\n#                 ^ name-needs-quotes',
    mends: 'melt M1, crucible "4"',
  },
  {
    name: 'a seal called by a number',
    text: 'ship V1 to X, sealed 0041\n#                    ^^^^ name-needs-quotes',
    mends: 'ship V1 to X, sealed "0041"',
  },
  {
    name: 'a new name that is a number',
    text: 'relabel A to 12\n#            ^^ name-needs-quotes',
    mends: 'relabel A to "12"',
  },
  {
    name: 'a lot called like a metal',
    text: 'receive Au 20 g\n#       ^^ name-needs-quotes',
    mends: 'receive "Au" 20 g',
  },
  {
    name: 'a lot called by a date',
    text: 'receive 2026-05-04 20 g\n#       ^^^^^^^^^^ name-needs-quotes',
    mends: 'receive "2026-05-04" 20 g',
  },
  {
    name: 'a product called like a fineness',
    text: 'melt M1\n  out 14k 20 g bar\n#     ^^^ name-needs-quotes',
    mends: '  out "14k" 20 g bar',
  },
  {
    name: 'a quote left open',
    text: 'receive "old ring\n#       ^^^^^^^^^ unclosed-quote',
    mends: 'receive "old ring"',
  },
  {
    name: 'a character of no meaning',
    text: 'receive A 20 g = 2\n#              ^ odd-character',
  },
  {
    name: 'two details run together',
    text: 'melt M1\n  in A out B 20 g\n#      ^^^ run-on',
    mends: '  out B 20 g',
  },
  {
    name: 'a dash of the word processor',
    text: 'receive A 20 g — old\n#              ^ odd-character\n#                ^^^ stray-part',
    mends: 'receive A 20 g - old',
  },
  {
    name: 'an ellipsis for a range',
    text: 'receive A\n  expect Au 22…30 %\n#             ^ odd-character',
    mends: '  expect Au 22..30 %',
  },
  {
    name: 'a hidden character in a name',
    text: 'receive B\u200b57 20 g\n#        ^ hidden-character',
    mends: 'receive B57 20 g',
  },
  {
    name: 'a hidden character before a figure',
    text: 'receive A \u200b20 g\n#         ^ hidden-character',
    mends: 'receive A 20 g',
  },
  { name: 'a NUL', text: 'receive A \u000020 g\n#         ^ hidden-character', mends: 'receive A 20 g' },
  {
    name: 'a note that is turned round',
    text: 'note paid \u202e005 g\n#         ^ hidden-in-text',
    mends: 'note paid 005 g',
  },
  {
    name: 'a weight without its unit',
    text: 'receive A 203.88\n#         ^^^^^^ missing-unit',
    mends: 'receive A 203.88 g',
    wanted: '203.88 g',
  },
  {
    name: 'a share without its unit',
    text: 'assay A by xrf\n  Au 91.2\n#    ^^^^ missing-unit',
    mends: '  Au 91.2 %',
    wanted: '91.2 %',
  },
  { name: 'a sum without its currency', text: 'quote Au 2480.00\n#        ^^^^^^^ missing-unit', wanted: 'a currency' },
  {
    name: 'a unit written out',
    text: 'receive A 20 grams\n#            ^^^^^ unknown-unit',
    mends: 'receive A 20 g',
    wanted: 'g',
  },
  {
    name: 'karat in a capital',
    text: 'receive A\n  stamp Au 14 K\n#             ^ unknown-unit',
    mends: '  stamp Au 14 k',
    wanted: 'k',
  },
  {
    name: 'a rate in nothing known',
    text: 'quote Au 80 USD/grams\n#               ^^^^^ unknown-unit',
    mends: 'quote Au 80 USD/g',
  },
  {
    name: 'carat for karat',
    text: 'receive A\n  claim Au 14 ct\n#          ^^^^^ wrong-unit',
    mends: '  claim Au 14 k',
    wanted: 'a proportion',
  },
  { name: 'a time for a weight', text: 'receive A 20 min\n#         ^^^^^^ wrong-unit', wanted: 'a weight' },
  { name: 'a weight for a share', text: 'assay A by xrf\n  Au 20 g\n#    ^^^^ wrong-unit', wanted: 'a proportion' },
  {
    name: 'a count with a unit',
    text: 'receive A 20 g, pieces 14 g\n#                         ^ wrong-unit',
    wanted: 'a number',
  },
  { name: 'a weight for money', text: 'receive A\n  bought 20 g\n#        ^^^^ wrong-unit', wanted: 'a sum of money' },
  {
    name: 'grains or grams',
    text: 'receive A 20 gr\n#            ^^ which-unit',
    mends: 'receive A 20 g',
    wanted: 'g',
  },
  {
    name: 'common or troy ounces',
    text: 'receive A 2 oz\n#           ^^ which-unit',
    mends: 'receive A 2 ozt',
    wanted: 'ozt',
  },
  {
    name: 'a price in common ounces',
    text: 'quote Au 2480 USD/oz\n#                 ^^ which-unit',
    mends: 'quote Au 2480 USD/ozt',
  },
  { name: 'a decimal comma', text: 'receive A 61,37 g\n#         ^^^^^ decimal-comma', mends: 'receive A 61.37 g' },
  {
    name: 'a comma before three digits of a fraction',
    text: 'receive A 0,125 g\n#         ^^^^^ decimal-comma',
    mends: 'receive A 0.125 g',
  },
  { name: 'a thousands comma', text: 'receive A 1,200 g\n#         ^^^^^ thousands-mark', mends: 'receive A 1200 g' },
  {
    name: 'thousands and a point',
    text: 'receive A 1,200.5 g\n#         ^^^^^^^ thousands-mark',
    mends: 'receive A 1200.5 g',
  },
  { name: 'a sign', text: 'receive A -3 g\n#         ^^ odd-number' },
  { name: 'no digit before the point', text: 'receive A .5 g\n#         ^^ odd-number', mends: 'receive A 0.5 g' },
  { name: 'no digit behind the point', text: 'receive A 5. g\n#         ^^ odd-number', mends: 'receive A 5 g' },
  {
    name: 'a range with a dash',
    text: 'receive A\n  expect Au 22-30 %\n#           ^^^^^ odd-number',
    mends: '  expect Au 22..30 %',
  },
  { name: 'a range without its end', text: 'receive A\n  expect Au 22.. %\n#             ^^ odd-number' },
  { name: 'a guess of nothing', text: 'receive A ~ g\n#         ^ odd-number' },
  { name: 'a half-width of nothing', text: 'receive A 20 ± g\n#            ^ odd-number' },
  {
    name: 'more digits than any scale has',
    text: 'receive A 1234567890123456 g\n#         ^^^^^^^^^^^^^^^^ odd-number',
  },
  {
    name: 'sums and repeats mixed',
    text: 'receive A 20.11 + 38.05 / 38.06 g\n#                       ^ mixed-weighings',
  },
  { name: 'a day that there is not', text: '2026-02-30\n# <^^^^^^^ impossible-date' },
  { name: 'a day in short', text: '2026-5-4 windy\n# <^^^^^ impossible-date', mends: '2026-05-04 windy' },
  { name: 'a day in words', text: '4 May 2026 windy\n# <^^^^^^^ impossible-date', mends: '2026-05-04 windy' },
  { name: 'its month first', text: 'May 4th, 2026\n# <^^^^^^^^^^ impossible-date', mends: '2026-05-04' },
  { name: 'its weekday first', text: 'Monday 2026-05-04\n# <^^^^^^^^^^^^^^ impossible-date', mends: '2026-05-04' },
  {
    name: 'a day that may be two',
    text: '05/04/2026\n# <^^^^^^^ impossible-date',
    wanted: '2026-05-04 or 2026-04-05',
  },
  { name: 'a date that there is not, in a slot', text: 'seal 2026-06-31\n#    ^^^^^^^^^^ impossible-date' },
  {
    name: 'a clock date in short',
    text: 'melt M1\n  2026-5-4 08:10 poured\n# ^^^^^^^^ impossible-date',
    mends: '  2026-05-04 08:10 poured',
  },
  { name: 'a time that there is not', text: 'melt M1\n  24:10 poured\n# ^^^^^ impossible-time' },
  ...[
    ['10:30pm poured', '^^^^^^^', '22:30 poured'],
    ['2:05 a.m. off', '^^^^^^^^^', '02:05 off'],
    ['12:10 am off', '^^^^^^^^', '00:10 off'],
    ['12:10 pm off', '^^^^^^^^', '12:10 off'],
    ['10.45 molten', '^^^^^', '10:45 molten'],
    ['11h00 quiet', '^^^^^', '11:00 quiet'],
  ].map(([line, mark, mends]) => ({
    name: `a time as other clocks have it: ${line}`,
    text: `melt M1\n  ${line}\n# ${mark} impossible-time`,
    mends: `  ${mends}`,
  })),
  { name: 'a half of a day that there is not', text: 'melt M1\n  13:10 am off\n# ^^^^^^^^ impossible-time' },
  {
    name: 'a material with a blank in its name',
    text: 'melt M1\n  add borax glass 5 g\n#     ^^^^^^^^^^^ stray-part',
    mends: '  add borax-glass 5 g',
    wanted: 'borax-glass',
  },
  {
    name: 'a method without the word before it',
    text: 'assay A xrf\n#       ^^^ stray-part',
    mends: 'assay A by xrf',
    wanted: 'by xrf',
  },
  {
    name: 'a party without the word before it',
    text: 'ship V1 harbour-refiner\n#       ^^^^^^^^^^^^^^^ stray-part',
    mends: 'ship V1 to harbour-refiner',
    wanted: 'to harbour-refiner',
  },
  {
    name: 'a metal by its name',
    text: 'assay A by xrf\n  gold 91.2 %\n# ^^^^ unknown-word',
    mends: '  Au 91.2 %',
    wanted: 'Au',
  },
  {
    name: 'a metal in lower case',
    text: 'assay A by xrf\n  ag 91.2 %\n# ^^ unknown-word',
    mends: '  Ag 91.2 %',
    wanted: 'Ag',
  },
  {
    name: 'a material without its word',
    text: 'cupel K1\n  lead 20 g\n# ^^^^ unknown-word',
    mends: '  add lead 20 g',
    wanted: 'add lead',
  },
  {
    name: 'what happened, before its time',
    text: 'melt M1\n  poured 10:53 into cone-1\n# ^^^^^^ unknown-word',
    mends: '  10:53 poured into cone-1',
    wanted: '10:53 poured',
  },
  { name: 'what happened, without a time', text: 'melt M1\n  blick\n# ^^^^^ unknown-word' },
  {
    name: 'a figure that is amiss, where none fits either',
    text: 'receive A\n  expect 22-30%\n#        ^^^^^ odd-number',
    mends: '  expect 22..30%',
  },
  {
    name: 'a product without its word',
    text: 'melt M1\n  slag 41 g\n# ^^^^ unknown-word',
    mends: '  out slag 41 g',
    wanted: 'out slag',
  },
  {
    name: 'a product without its word, its weight first',
    text: 'melt M1\n  0.22 g prills\n# ^^^^^^^^^^^^^ unknown-word',
    mends: '  out 0.22 g prills',
    wanted: 'out 0.22 g prills',
  },
  { name: 'minutes that there are not', text: 'melt M1\n  8:61 poured\n# ^^^^ impossible-time' },
  {
    name: 'a detail at the margin',
    text: 'melt M1\nin A\n# < missing-indent',
    mends: '  in A',
  },
  { name: 'a time at the margin', text: 'melt M1\n08:10 poured\n# <^^ missing-indent', mends: '  08:10 poured' },
  { name: 'an indented line under a day', text: '2026-05-04\n  in A\n# ^^^^ loose-line' },
  { name: 'an indented line under nothing', text: '  in A\n# ^^^^ loose-line' },
  { name: 'merge markers', text: '<<<<<<< ours\n# <^^^^^^^^^ merge-marker\nmelt M1\n>>>>>>> theirs' },
  {
    name: 'a range with its higher end first',
    text: 'receive A 50..40 g\n#         ^^^^^^^^ odd-number',
    mends: 'receive A 40..50 g',
  },
  {
    name: 'a figure with two points: one finding',
    text: 'receive A 20.1.2 g\n#         ^^^^^^ odd-number',
  },
  {
    name: 'thousands set off by points',
    text: 'receive A 1.200.500 g\n#         ^^^^^^^^^ odd-number',
    mends: 'receive A 1200500 g',
  },
  {
    name: 'a detail swallowed by a note',
    text: 'melt M1\n  note stirred, out S57 30 g\n#               ^^^ swallowed-detail',
  },
  {
    name: 'a detail swallowed by a clock line',
    text: 'melt M1\n  08:10 poured, out B57 58 g\n#               ^^^ swallowed-detail',
  },
];

describe('problems of the form', () => {
  test.each(CASES)('$name', ({ text, mends, wanted }) => {
    const page = pageOf(text);
    const found = problemsOf(page);
    expect(described(text, found)).toEqual(described(text, marksOf(text)));
    if (wanted !== undefined) expect(found[0]!.wanted).toBe(wanted);
    if (mends === undefined) expect(found[0]!.mend).toBeUndefined();
    else expect(lineAt(mended(page, found[0]!), found[0]!.start)).toBe(mends);
  });

  test('one thing is said at a time: with the mend made, nothing is left of it', () => {
    for (const { text, mends } of CASES) {
      const bare = text.replace(/^#.*$/gm, '# ');
      const page = pageOf(bare);
      const [first] = problemsOf(page);
      if (mends === undefined || !first?.mend) continue;
      const left = problemsOf(pageOf(mended(page, first))).map(({ code }) => code);
      expect(left, text).not.toContain(first.code === 'odd-character' ? 'never' : first.code);
    }
  });

  test('every code of the tree has a case here', () => {
    const tree = readFileSync('server/syntax/tree.ts', 'utf8');
    const codes = tree.slice(tree.indexOf('ProblemCode ='), tree.indexOf(';', tree.indexOf('ProblemCode =')));
    const named = [...codes.matchAll(/'([a-z-]+)'/g)].map(([, code]) => code!);
    const shown = new Set(CASES.flatMap(({ text }) => marksOf(text).map(({ code }) => code)));
    expect(named.length).toBeGreaterThan(20);
    expect(named.filter((code) => !shown.has(code))).toEqual([]);
  });
});

const lineAt = (text: string, offset: number): string => {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const end = text.indexOf('\n', start);
  return text.slice(start, end < 0 ? undefined : end);
};
