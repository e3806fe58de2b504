/** The reference is a test: every example in it is read, and shows what its marks say and nothing else. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { DETAILS, REMARKS } from '../server/vocabulary/details';
import { toldOf } from '../server/vocabulary/told';
import { VERBS } from '../server/vocabulary/verbs';
import { BASES, KINDS, METHODS, POOLS, PREFIXES, STATES } from '../server/vocabulary/words';
import { KEYS } from '../server/workshop/keys';
import { readWorkshop } from '../server/workshop/read';
import { described, marksOf, pageOf, problemsOf } from './support/fixture';

const REFERENCE = readFileSync(resolve(__dirname, '../server/LANGUAGE.md'), 'utf8');

/** Fenced examples, each with the line that it begins on. */
const examples = (): { readonly line: number; readonly text: string }[] => {
  const found: { line: number; text: string }[] = [];
  let lines: string[] | undefined;
  REFERENCE.split('\n').forEach((line, index) => {
    if (lines === undefined) lines = line === '```melt' ? [] : undefined;
    else if (line !== '```') lines.push(line);
    else {
      found.push({ line: index + 1 - lines.length, text: lines.join('\n') });
      lines = undefined;
    }
  });
  return found;
};

describe('the reference', () => {
  test.each(examples())('example at line $line', ({ text }) => {
    expect(described(text, problemsOf(pageOf(text)))).toEqual(described(text, marksOf(text)));
  });

  test('every word of the language stands in an example', () => {
    const used = new Set(examples().flatMap(({ text }) => text.toLowerCase().split(/[^a-z0-9-]+/)));
    const wanted = [...VERBS, ...DETAILS, ...REMARKS, ...PREFIXES].map(({ word }) => word);
    const seldom = new Set([
      'roast',
      'burn',
      'screen',
      'magnet',
      'pan',
      'retort',
      'dissolve',
      'drop',
      'mould',
      'at',
      'owner',
    ]);
    for (const word of ['batch', 'sealed', 'insured', 'corrected', 'uncorrected', 'umpire', 'witness'])
      seldom.add(word);
    expect(wanted.filter((word) => !used.has(word) && !seldom.has(word))).toEqual([]);
  });
});

test('the terms of its workshop file are read, with nothing amiss', () => {
  const text = REFERENCE.split('```yaml\n')[1]!.split('```')[0]!;
  const { workshop, problems } = readWorkshop('workshop.yaml', text);
  expect(problems).toEqual([]);
  const [terms, later] = workshop.parties.get('harbour-refiner')!.terms;
  // Every key of a refiner's terms stands in the example, but for a remark and who keeps residues.
  const block = text.slice(text.indexOf('2026-01-01'), text.indexOf('2026-07-01'));
  const left = KEYS.filter(({ in: owner, key }) => owner === 'terms' && !block.includes(`${key}:`));
  expect(left.map(({ key }) => key)).toEqual(['residues', 'note']);
  expect(terms!.pays.get('Au')!.map(({ share }) => share.toString())).toEqual(['0.96', '0.98', '0.985']);
  expect(later!.from).toBe('2026-07-01');
});

describe("the tables' examples", () => {
  test.each(VERBS.map((row) => [row.word, toldOf(row).example]))('%s', (word, example) => {
    const page = pageOf(example);
    expect(problemsOf(page)).toEqual([]);
    expect(page.entries[0]!.verb).toBe(word);
  });

  const verbFor = (word: string): string =>
    toldOf(
      VERBS.find(({ takes, also }) => takes.some((group) => group === groupOf(word)) || also?.includes(word))!,
    ).example.split(',')[0]!;
  const groupOf = (word: string): string | undefined => DETAILS.find((row) => row.word === word)?.group;

  test.each(DETAILS.map((row) => [row.word, toldOf(row).example]))('%s', (word, example) => {
    const page = pageOf(`${verbFor(word)}\n  ${example}`);
    expect(problemsOf(page)).toEqual([]);
    expect(page.page.sections[0]!.lines[1]!.pieces[0]!.word!.text).toBe(word);
  });

  test.each(REMARKS.map((row) => [row.word, toldOf(row).example]))('%s', (word, example) => {
    const isEntry = VERBS.some((row) => example.startsWith(`${row.word} `) && row.word !== word);
    const page = pageOf(isEntry ? example : `melt M1\n  ${example}`);
    expect(problemsOf(page)).toEqual([]);
    const said = page.page.sections[0]!.lines.flatMap(({ pieces }) => pieces.map((piece) => piece.word?.text));
    expect(said).toContain(word);
  });

  test('each small word is read in its place', () => {
    const lines = [
      ...KINDS.map(({ word }) => `melt M1\n  out X 2 g ${word}`),
      ...STATES.map(({ word }) => `melt M1\n  out X 2 g ${word}`),
      ...METHODS.map(({ word }) => `assay A by ${word}`),
      ...PREFIXES.map(({ word }) => `${word} melt M1`),
      ...BASES.map(({ word }) => `settle V1\n  charge x 2 USD/g of ${word}`),
      ...POOLS.map(({ word }) => `blend J1, pooled by ${word}`),
    ];
    expect(lines.filter((text) => problemsOf(pageOf(text)).length > 0)).toEqual([]);
  });
});
