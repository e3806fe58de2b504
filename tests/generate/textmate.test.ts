/** The colour grammar: every word has its colour, and no line can hold its patterns up. */
import { describe, expect, test } from 'vitest';
import { type Grammar, markdownGrammar, meltGrammar, type Pattern } from '../../server/generate/textmate';
import { UNITS } from '../../server/quantity/units';
import { DETAILS, REMARKS } from '../../server/vocabulary/details';
import { VERBS } from '../../server/vocabulary/verbs';
import { KINDS, METHODS, STATES } from '../../server/vocabulary/words';

/** The grammar's patterns are written so that they mean the same here. */
const compile = (source: string): RegExp => {
  const anyCase = source.includes('(?i)') || source.includes('(?i:');
  const plain = source
    .replace('(?i)', '')
    .replace('(?i:', '(?:')
    .replace('(^|\\G)', '(^)')
    .replace('\\2|', '')
    .replace('(\\3)', '(`{3,})');
  return new RegExp(plain, anyCase ? 'dgui' : 'dgu');
};

const patternsIn = (grammar: Grammar): Pattern[] => {
  const all: Pattern[] = [];
  const visit = (pattern: Pattern): void => {
    all.push(pattern);
    for (const inner of pattern.patterns ?? []) visit(inner);
  };
  for (const pattern of Object.values(grammar.repository)) visit(pattern);
  return all;
};

interface Scoped {
  readonly text: string;
  readonly scope: string;
}

/** A line's coloured words, as an editor would find them: at each place the earliest match, of several the first in the list. */
const scopesOf = (line: string): Scoped[] => {
  const grammar = meltGrammar();
  const found: Scoped[] = [];
  const flatten = (patterns: readonly Pattern[]): Pattern[] =>
    patterns.flatMap((pattern) => {
      if (!pattern.include) return pattern.match || pattern.begin ? [pattern] : flatten(pattern.patterns ?? []);
      return flatten([grammar.repository[pattern.include.slice(1)]!]);
    });
  const run = (patterns: readonly Pattern[], from: number, base: string | undefined): void => {
    let at = from;
    while (at < line.length) {
      const matches = patterns.flatMap((pattern) => {
        const regex = compile((pattern.match ?? pattern.begin)!);
        regex.lastIndex = at;
        const match = regex.exec(line);
        return match ? [{ pattern, match }] : [];
      });
      matches.sort((a, b) => a.match.index - b.match.index);
      const [best] = matches;
      const next = best?.match.index ?? line.length;
      if (base && line.slice(at, next).trim()) found.push({ text: line.slice(at, next).trim(), scope: base });
      if (!best) return;
      const { pattern, match } = best;
      if (pattern.match && pattern.name) found.push({ text: match[0], scope: pattern.name });
      for (const [group, { name }] of Object.entries(pattern.captures ?? pattern.beginCaptures ?? {})) {
        const text = match[Number(group)];
        if (text) found.push({ text, scope: name });
      }
      const end = match.index + match[0].length;
      if (pattern.begin) {
        run(flatten(pattern.patterns ?? []), end, pattern.contentName);
        return;
      }
      at = Math.max(end, at + (match[0].length === 0 ? 1 : 0));
    }
  };
  run(flatten(grammar.patterns), 0, undefined);
  return found;
};

const scopeOf = (line: string, text: string): string | undefined =>
  scopesOf(line).find((one) => one.text === text)?.scope;

describe('colours', () => {
  test('every word of the vocabulary, in either case', () => {
    const wrong: string[] = [];
    const check = (line: string, text: string, scope: string): void => {
      if (!scopeOf(line, text)?.startsWith(scope)) wrong.push(`${line}: ${scopeOf(line, text)}`);
    };
    for (const { word } of VERBS) {
      check(`${word} M1`, word, word === 'note' ? 'keyword.other' : 'keyword.control.verb');
      check(`more ${word} M1`, word, word === 'note' ? 'keyword.other' : 'keyword.control.verb');
    }
    for (const { word } of DETAILS) check(`  ${word} X`, word, 'keyword.other.detail');
    for (const { word } of REMARKS) check(`  in A, ${word} X`, word, word === 'water' ? 'keyword' : 'keyword.other');
    for (const { word } of KINDS) check(`  out X 2 g ${word}`, word, 'storage.type.kind');
    for (const { word } of STATES) check(`  out X 2 g ${word}`, word, 'constant.language.state');
    for (const { word } of METHODS) if (word !== 'salt') check(`assay A by ${word}`, word, 'support.function.method');
    for (const { symbol } of UNITS) check(`  in A 2 ${symbol}`, symbol, 'keyword.other.unit');
    check('MELT M1', 'MELT', 'keyword.control.verb');
    expect(wrong).toEqual([]);
  });

  test.each([
    ['2026-05-04  dry and windy # x', ['2026-05-04', 'dry and windy', '# x']],
    ['  09:52 charged 1170 °C into cone-1', ['09:52', 'charged', '1170', '°C', 'into', 'cone-1']],
    ['  in B57 58.16 g on bench # y', ['in', '58.16', 'g', 'on', '# y']],
    ['  in 14k-chips 20 g', ['in', '20', 'g']],
    ['  in 14k', ['in', '14', 'k']],
    ['  out "dry" ~2 g', ['out', '"dry"', '~', '2', 'g']],
    ['  Au 22..30 %, Ag ? %', ['Au', '22', '..', '30', '%', 'Ag', '?', '%']],
    ['  pays Au 93 %, price Au 2475.00 USD/ozt', ['pays', 'Au', '93', '%', 'price', 'Au', '2475.00', 'USD/ozt']],
    ['  in A 61,37 g', ['in', '61,37', 'g']],
    ['  keep, note bag #4, in A # z', ['keep', 'note', 'bag #4, in A', '# z']],
    ['<<<<<<< ours', ['<<<<<<< ours']],
    ['  marks 2026-05-04 4f2a91bc 77b0e4aa', ['marks', '2026-05-04', '4f2a91bc 77b0e4aa']],
    ['  marks before 12345678 # x', ['marks', 'before', '12345678', '# x']],
    ['  in melt-3, out drying', ['in', 'out']],
  ])('%s', (line, expected) => {
    expect(scopesOf(line).map(({ text }) => text)).toEqual(expected);
  });
});

describe('patterns', () => {
  const sources = [meltGrammar(), markdownGrammar()].flatMap((grammar) =>
    patternsIn(grammar).flatMap(({ match, begin, end, while: goesOn }) =>
      [match, begin, end, goesOn].filter((one) => one !== undefined),
    ),
  );

  test('have no repeat within a repeat', () => {
    expect(sources.filter((source) => /\((?:[^()\\]|\\.)*[*+](?:[^()\\]|\\.)*\)[*+]/.test(source))).toEqual([]);
  });

  test('run over long lines of anything', () => {
    const units = [
      'a',
      '1',
      '.',
      '1.',
      '1.1',
      '-',
      '/',
      '1-',
      ' ',
      '\t',
      ',',
      '1,',
      '"',
      '#',
      '# ',
      '`',
      '~',
      '~`',
      'a1',
      'é',
      'in ',
      '1 g ',
      '2026-',
    ];
    for (const unit of units) {
      for (const head of ['', '  ', '  1', '2026-05-04', 'melt', '```', '  in "']) {
        const line = head + unit.repeat(20_000 / unit.length);
        for (const source of sources) {
          const regex = compile(source);
          let steps = 0;
          for (const _ of line.matchAll(regex)) steps++;
          expect(steps).toBeLessThanOrEqual(line.length + 1);
        }
      }
    }
  }, 60_000);
});
