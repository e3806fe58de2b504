/** Assays that cannot be, and two that have their columns exchanged. */
import { describe, expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const says = (body: string): string[] =>
  findingsOf(pageWorkspace(`2026-05-04\n${body}`), 'page.melt').map((finding) => finding.says);

describe('a density', () => {
  const weighed = (head: string, water: string) =>
    says(`receive A 50.00 g\n${head}assay A by density\n  air 50.00 g\n  water ${water} g 20 °C`);

  test('above all metals', () => {
    // 50 g less 47.92 g: 2.08 g of water, 0.9982 − 0.0012 g/cm³ each.
    expect(weighed('', '47.92')).toEqual([
      'By these weights A is 24.0 g/cm³, and no metal is above 22.6. Weigh it again in air and in water.',
    ]);
  });

  test('above gold, but where the metal is known to be of the platinum group', () => {
    expect(weighed('', '47.60')).toEqual([
      'By these weights A is 20.8 g/cm³, heavier than gold, 19.3: only metals of the platinum group are. Weigh it again in air and in water.',
    ]);
    expect(weighed('assay A by xrf\n  Pt 95 %\n', '47.60')).toEqual([]);
  });

  test('below any metal of the trade, of what should be metal', () => {
    expect(weighed('', '41.00')[0]).toBe(
      'By these weights A is 5.54 g/cm³, and even zinc is 7.13. Is it hollow, is there slag or a stone in it, or a bubble on it? Weigh it again in air and in water; of gold in quartz write `material quartz` in the assay.',
    );
    expect(weighed('  material black-sand\n', '41.00')).toEqual([]);
  });

  test.each(['46.92', '47.42', '45.20', '44.20'])(
    'of gold, of an alloy, of copper or brass is none to speak of: %s g',
    (water) => {
      expect(weighed('', water)).toEqual([]);
    },
  );
});

describe('gold and silver exchanged', () => {
  test('between two assays of one lot', () => {
    const page = (second: string) =>
      says(
        `receive A 50.00 g\nassay A by fire at north-lab\n  Au 75.0 ±0.1 %, Ag 20.0 ±0.1 %\nassay A by xrf\n  ${second}`,
      );
    expect(page('Au 20.3 %, Ag 74.8 %')).toEqual([
      'Au and Ag look swapped: Au 20.3 % and Ag 74.8 % here, Au 75.00 % and Ag 20.00 % in assay A by fire at north-lab. Exchange them in the one that is wrong.',
    ]);
    expect(page('Au 70.3 %, Ag 24.8 %')[0]).toMatch(/^Ag 24.8 % here and 20.00 % in assay A by fire/);
  });

  test('between the assays before and after a step', () => {
    const page = (gold: string, silver: string) =>
      says(
        `receive C 50.00 g\nassay C by fire\n  Au 75.0 ±0.1 %, Ag 20.0 ±0.1 %\ncast C1\n  in C 50.00 g\n  out D 49.95 g bar\nassay D by fire\n  Au ${gold} ±0.1 %, Ag ${silver} ±0.1 %`,
      );
    expect(page('20.0', '75.0')).toEqual([
      '27.45 g of gold is missing in cast C1, and as much silver is too much: Au and Ag look swapped in one of the assays. See which lot it is that holds more gold.',
    ]);
    // 5 % of gold is silver after.
    expect(page('70.0', '25.0')).toEqual([
      '2.48 g of gold is missing in cast C1, and as much silver is too much: one of the assays looks wrong, or of another lot. Assay again.',
    ]);
    // What is missing of one is not what is too much of the other: two causes.
    expect(page('70.0', '22.0')).toHaveLength(2);
  });
});
