/** Samples that an assay used up: worked by hand beside each page. */
import { describe, expect, test } from 'vitest';
import { accountsOf } from '../../../server/workspace/accounts';
import type { Workspace } from '../../../server/workspace/workspace';
import { pageWorkspace, said } from '../../support/workspace';

const SAMPLED = `2026-06-02
receive H 100.00 g
sample H
  out H1 2.000 g drillings, to harbour-lab
  out H2 2.000 g drillings
  out H3 2.000 g drillings, to high-fell
`;

const FIRE = '2026-06-24\nassay H1 by fire at harbour-lab\n  Au 70.0 %, Ag 20.0 %\n';

/** Grams of what is left of each lot. */
const onHand = (page: Workspace): Readonly<Record<string, number | undefined>> =>
  Object.fromEntries(
    accountsOf(page)
      .stock()
      .map(({ lot, amount }) => [lot, amount?.value.toNumber()]),
  );

const usedUp = (page: Workspace): number | undefined =>
  accountsOf(page)
    .period('Au', undefined, undefined)
    .lines.find(({ movement }) => movement === 'assayed')?.grams.value;

const pageOf = (text: string): Workspace => {
  const page = pageWorkspace(text);
  expect(said(page)).toEqual([]);
  expect(accountsOf(page).period('Au', undefined, undefined).unaccounted.value).toBeCloseTo(0, 9);
  return page;
};

describe('a sample', () => {
  // 2.000 g at 70.0 % are 1.400 g of gold; 94.00 g of the lot are left.
  test('is used up by the laboratory that assays it by fire', () => {
    const page = pageOf(SAMPLED + FIRE);
    expect(onHand(page)).toEqual({ H: 94, H2: 2, H3: 2 });
    expect(usedUp(page)).toBeCloseTo(1.4, 9);
  });

  test('is with them until the result is there', () => {
    expect(accountsOf(pageOf(SAMPLED + FIRE)).stock('2026-06-23')).toHaveLength(4);
  });

  test('of which something came back was used up by the rest', () => {
    const page = pageOf(`${SAMPLED}${FIRE}2026-06-26\nmore sample H\n  back H1 1.250 g`);
    expect(onHand(page)).toMatchObject({ H1: 1.25 });
    expect(usedUp(page)).toBeCloseTo(0.75 * 0.7, 9);
  });

  test('is there where the record finds it or works on it later', () => {
    expect(onHand(pageOf(`${SAMPLED}${FIRE}2026-06-26\nweigh H1 2.000 g`))).toMatchObject({ H1: 2 });
    const melted = pageOf(`${SAMPLED}${FIRE}2026-06-26\nblend M\n  in H1 2.000 g\n  out M1 2.000 g`);
    expect(onHand(melted)).toMatchObject({ M1: 2 });
    expect(usedUp(melted)).toBeUndefined();
  });

  test('is less by what the assay says that it took, and stays where it was only looked at', () => {
    const took = FIRE.replace('  Au', '  took 500.0 mg\n  Au');
    expect(onHand(pageOf(SAMPLED + took))).toMatchObject({ H1: 1.5 });
    expect(onHand(pageOf(SAMPLED + FIRE.replace('fire', 'xrf')))).toMatchObject({ H1: 2 });
  });

  test('that was kept here is used up at the bench where its own bead was weighed', () => {
    expect(onHand(pageOf(`${SAMPLED}assay H2 by fire\n  bead 1.800 g, cornet 1.400 g`))).not.toHaveProperty('H2');
    // Nobody says how much of it was burnt.
    expect(onHand(pageOf(`${SAMPLED}assay H2 by fire\n  Au 70.0 %`))).toMatchObject({ H2: 2 });
  });

  test('that somebody else has than who assayed it stays with them', () => {
    expect(onHand(pageOf(`${SAMPLED}assay H3 by fire at ridge-lab\n  Au 70.0 %`))).toMatchObject({ H3: 2 });
  });

  test('assayed twice by one laboratory is used up once', () => {
    const page = pageOf(`${SAMPLED}${FIRE}assay H1 by fire at harbour-lab\n  Au 70.0 %`);
    expect(usedUp(page)).toBeCloseTo(1.4, 9);
  });

  test('and a lot that is no sample is not used up by its assay', () => {
    expect(onHand(pageOf('2026-06-02\nreceive H 100.00 g\nassay H by fire at harbour-lab\n  Au 70.0 %'))).toEqual({
      H: 100,
    });
  });
});
