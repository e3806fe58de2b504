/** Lots that have left, weights that explain themselves, and parts heavier than the whole. */
import { describe, expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const says = (body: string): string[] =>
  findingsOf(pageWorkspace(`2026-07-01\n${body}`), 'page.melt').map((finding) => finding.says);

const RECEIVED = 'receive D 40.00 g\nassay D by xrf\n  Au 56 %\n';
const USE = 'cast C2\n  in D\n  out E 39.98 g bar';

describe('a lot that has left', () => {
  test.each([
    ['sell D to moor-refiner for 3000 USD', 'D was sold in sell D.'],
    ['discard D', 'D was thrown away in discard D.'],
    ['relabel D to D2', 'D got another name in relabel D. It is D2 now.'],
    ['ship V1 to moor-refiner\n  in D', 'D left in ship V1.'],
    ['cast C1\n  in D\n  out F 39.98 g bar', 'D was used up in cast C1. A part of it would be `in AMOUNT of D`.'],
  ])('%s', (gone, words) => {
    expect(says(`${RECEIVED}${gone}\n${USE}`)).toEqual([words]);
  });

  test('is not weighed again, but it may be found', () => {
    expect(says(`${RECEIVED}discard D\nweigh D 40.00 g`)).toEqual([
      'D was thrown away in discard D. It is weighed here all the same: found again is written in a `count`.',
    ]);
    expect(says(`${RECEIVED}discard D\ncount\n  found D 40.00 g\n${USE}`)).toEqual([]);
  });
});

describe('a word beside a weight that says why another differs', () => {
  test('weighed hot before', () => {
    expect(says('receive B 39.90 g hot\nweigh B 39.95 g')[0]).toMatch(
      /39.95 g in weigh B: 0.05 g more, .* The words beside the weights say why: it was weighed hot before\.$/,
    );
  });
});

describe('a part heavier than the whole', () => {
  const assay = (lines: string): string[] => says(`receive A 20.00 g\nassay A by fire\n  ${lines}`);
  test('a bead, a cornet', () => {
    expect(assay('took 250.0 mg, bead 251.3 mg')).toEqual(['`bead` 251.3 mg is more than `took` 250.0 mg.']);
    expect(assay('took 250.0 mg, bead 182.0 mg, cornet 128.0 mg')).toEqual([]);
  });
  test('air and water changed about', () => {
    expect(says('receive A 20.00 g\nassay A by density\n  air 18.71 g\n  water 20.00 g 19 °C')).toEqual([
      '`water` 20.00 g is more than `air` 18.71 g.',
    ]);
  });
  test('several beads are not told apart', () => {
    expect(assay('took 250.0 mg, bead 180.0 mg\n  took 100.0 mg, bead 72.0 mg')).toEqual([]);
  });
});
