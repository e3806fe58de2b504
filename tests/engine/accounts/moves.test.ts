/** What comes in and goes out of a lot, and what an account makes of it: worked by hand beside each page. */
import { describe, expect, test } from 'vitest';
import type { AccountLine } from '../../../server/engine/accounts/period';
import { metalFlow } from '../../../server/engine/longview/flow';
import { limitWords } from '../../../server/reports/account';
import { accountsOf } from '../../../server/workspace/accounts';
import type { Workspace } from '../../../server/workspace/workspace';
import { pageWorkspace } from '../../support/workspace';

const period = (page: Workspace, metal = 'Ag') => accountsOf(page).period(metal, undefined, undefined);

/** `thrown away 59.7 g` as the movement and its grams. */
const moved = (page: Workspace, metal = 'Ag'): Readonly<Record<string, number>> =>
  Object.fromEntries(period(page, metal).lines.map(({ movement, grams }: AccountLine) => [movement, grams.value]));

const onHand = (page: Workspace, lot: string) =>
  accountsOf(page)
    .stock()
    .find((one) => one.lot === lot);

const PARTED =
  '2026-03-01\nreceive A 100.00 g\nassay A by fire\n  Au 30.0 %, Ag 60.0 %, Cu 10 %\n' +
  'part P1\n  in A 100.00 g\n  add nitric-acid 400 mL, add water 400 mL\n  out P1au 30.0 g sponge annealed\n  out P1L 2.0 L solution\n';

describe('a solution that leaves', () => {
  // Parting leaves 0 to 1 % of the silver in the sponge: 60.0 less 0.3 is in the solution.
  test('takes its silver with it when it is thrown away', () => {
    const page = pageWorkspace(`${PARTED}discard P1L`);
    expect(moved(page)).toEqual({ received: expect.closeTo(60, 9), discarded: expect.closeTo(59.7, 6) });
    expect(limitWords(period(page))).toBe('weighing and assays explain it');
  });

  test('thrown away as it is made, or shipped: the same', () => {
    expect(moved(pageWorkspace(PARTED.replace('solution', 'solution, discard'))).discarded).toBeCloseTo(59.7, 6);
    expect(moved(pageWorkspace(`${PARTED}ship V1 to refiner\n  in P1L`)).shipped).toBeCloseTo(59.7, 6);
  });

  test('in part: a quarter poured off, a quarter shipped, a half on hand', () => {
    const page = pageWorkspace(`${PARTED}discard P1L 0.5 L\nship V1 to refiner\n  in 0.5 L of P1L`);
    expect(moved(page)).toMatchObject({ discarded: expect.closeTo(14.925, 6), shipped: expect.closeTo(14.925, 6) });
    expect(onHand(page, 'P1L')).toMatchObject({ unit: 'millilitre' });
    expect(onHand(page, 'P1L')?.amount?.value.toNumber()).toBe(1000);
    expect(period(page).unaccounted.value).toBeCloseTo(0, 6);
  });

  test('poured off to the last drop is on hand no more', () => {
    const page = pageWorkspace(`${PARTED}discard P1L 0.5 L\nship V1 to refiner\n  in 1.5 L of P1L`);
    expect(onHand(page, 'P1L')).toBeUndefined();
    expect(period(page).unaccounted.value).toBeCloseTo(0, 6);
  });

  test('shipped, and back: all of it is on hand again', () => {
    const page = pageWorkspace(`${PARTED}ship V1 to refiner\n  in P1L\n2026-03-05\nmore ship V1\n  back P1L`);
    expect(moved(page)).toMatchObject({ shipped: expect.closeTo(59.7, 6), returned: expect.closeTo(59.7, 6) });
    expect(onHand(page, 'P1L')?.amount?.value.toNumber()).toBe(2000);
    expect(period(page).unaccounted.value).toBeCloseTo(0, 6);
  });

  test('without a measure of it takes all that went into it', () => {
    const poured = PARTED.replace('2.0 L ', '');
    const page = pageWorkspace(`${poured}discard P1L`);
    expect(moved(page).discarded).toBeCloseTo(59.7, 6);
    expect(limitWords(period(page))).toBe('weighing and assays explain it');
    // On hand it holds as much; of a part of it nobody knows how much that was.
    expect(onHand(pageWorkspace(poured), 'P1L')?.fine.find(({ metal }) => metal === 'Ag')?.grams?.value).toBeCloseTo(
      59.7,
      6,
    );
    const part = period(pageWorkspace(`${poured}ship V1 to refiner\n  in 0.5 L of P1L`));
    expect(part.lines.find(({ movement }) => movement === 'shipped')).toMatchObject({ unknown: 1 });
  });

  // Copper throws down 98.5 to 100 % of the 59.7 g; where the salt test finds none left, all.
  test('without a measure passes on its silver to what is thrown down from it', () => {
    const dropped = `${PARTED}drop R\n  in P1L\n  add copper, before 60.0 g, after 42.0 g\n  out Rd 60.00 g sponge dry\n  out RL 2.1 L solution\nassay RL by salt\n  Ag none\n`;
    const silverIn = (text: string) => onHand(pageWorkspace(text), 'Rd')?.fine.find(({ metal }) => metal === 'Ag');
    const [measured, unmeasured] = [silverIn(dropped), silverIn(dropped.replace('2.0 L ', '').replace('2.1 L ', ''))];
    expect(measured?.grams?.value).toBeCloseTo(59.7, 6);
    expect(unmeasured?.grams?.value).toBeCloseTo(59.7, 6);
    expect(unmeasured?.known.ground).toBe('carried');
    // Of two of them both pass on theirs, and through one more step.
    const two = `${PARTED.replace('2.0 L ', '')}receive B 50.00 g\nassay B by fire\n  Au 30.0 %, Ag 60.0 %, Cu 10 %\npart P2\n  in B 50.00 g\n  add nitric-acid 400 mL\n  out P2au 15.0 g sponge annealed\n  out P2L solution\nblend J\n  in P1L\n  in P2L\n  out JL solution\ndrop R\n  in JL\n  add copper 30 g\n  out Rd 90.00 g sponge dry\n`;
    expect(silverIn(two)?.grams?.value).toBeCloseTo((59.7 + 29.85) * 0.9925, 6);
  });

  test('without a measure, and tested for silver: what the test says holds', () => {
    const page = pageWorkspace(`${PARTED.replace('2.0 L ', '')}assay P1L by salt\n  Ag none\ndiscard P1L`);
    expect(moved(page).discarded).toBe(0);
  });

  test('has its way on the picture of the flow', () => {
    const page = pageWorkspace(`${PARTED}discard P1L`);
    const accounts = accountsOf(page);
    const passages = [...page.pages.values()].flatMap(({ entries }) =>
      entries.flatMap((entry) => {
        const step = page.book.step(entry);
        return step ? [accounts.metals.lineage.passage(step)] : [];
      }),
    );
    const flow = metalFlow({
      metal: 'Ag',
      passages,
      metals: accounts.metals,
      book: page.book,
      holdings: accounts.stock(),
      together: true,
    });
    expect(flow.ways.find(({ to }) => to === 'thrown away')?.grams.value).toBeCloseTo(59.7, 6);
  });
});

describe('what a count found', () => {
  const COUNTED =
    '2026-04-01\nreceive B 10.00 g\nassay B by fire\n  Au 60.0 %, Ag 38.0 %\n' +
    'split Y\n  in B 10.00 g\n  out Y1 5.00 g\n  out Y2 5.00 g\n';

  // Y1 holds 3.00 g of gold: charged, and there again.
  test('of a lot that was used up has its own line in the account', () => {
    const page = pageWorkspace(
      `${COUNTED}cast R\n  in Y1 5.00 g\n  out Rb 4.99 g bar\n2026-04-20\ncount\n  found Y1 5.00 g`,
    );
    expect(moved(page, 'Au')).toEqual({ received: expect.closeTo(6, 9), found: expect.closeTo(3, 9) });
    expect(limitWords(period(page, 'Au'))).toBe('weighing and assays explain it');
  });

  test('of a lot that was missed before comes in as it went out', () => {
    const page = pageWorkspace(
      `${COUNTED}2026-04-20\ncount\n  missing Y1\n2026-05-20\ncount\n  found Y1 5.00 g\n  found Y2 5.00 g`,
    );
    expect(moved(page, 'Au')).toMatchObject({ missing: expect.closeTo(3, 9), found: expect.closeTo(3, 9) });
    expect(period(page, 'Au').unaccounted.value).toBeCloseTo(0, 9);
  });

  test('as the record has it is no movement; more than weighing explains is', () => {
    const counted = (found: string) =>
      moved(pageWorkspace(`${COUNTED}2026-04-20\ncount\n  found Y1 ${found}\n  found Y2 5.00 g`), 'Au').found;
    expect(counted('5.00 g')).toBeUndefined();
    expect(counted('5.01 g')).toBeUndefined();
    expect(counted('5.50 g')).toBeCloseTo(0.3, 9);
  });
});

describe('what changed between two weighings', () => {
  const BAR = '2026-05-01\nreceive B 100.00 g\nassay B by fire\n  Au 60.0 %\n2026-05-02\n';
  const changed = (rest: string, from?: string) =>
    accountsOf(pageWorkspace(BAR + rest)).period('Au', from, undefined).changed;

  // 0.50 g less, of 60 % gold: 0.300 g.
  test('has a line of its own in the account, be it accepted or not', () => {
    const drop = 'split Y\n  in B 99.50 g  # accepted weight-changed: filed flush\n  out Y1 99.50 g';
    const account = period(pageWorkspace(BAR + drop), 'Au');
    expect(account.changed).toMatchObject({ count: 1, grams: { value: expect.closeTo(0.3, 9) } });
    expect(account.unaccounted.value).toBeCloseTo(0.3, 9);
    expect(changed(drop.replace(/ {2}#.*/, '')).count).toBe(1);
    expect(changed(drop, '2026-05-03').count).toBe(0);
  });

  test('is told as too much where it weighs more', () => {
    expect(changed('weigh B 100.50 g').grams.value).toBeCloseTo(-0.3, 9);
  });

  test('counts what weighing explains and what dried too, so that the lines add up to what is left over', () => {
    for (const [page, grams] of [
      ['weigh B 99.99 g', 0.006],
      ['weigh B 101.00 g wet\nweigh B 99.00 g dry', 0.6],
    ] as const) {
      const account = period(pageWorkspace(BAR + page), 'Au');
      expect(account.changed.grams.value).toBeCloseTo(grams, 9);
      expect(account.unaccounted.value).toBeCloseTo(grams, 9);
    }
  });

  test('is nothing where two weighings say that the one between them was wrong, and where a count found it', () => {
    expect(changed('weigh B 98.00 g\nweigh B 100.00 g').count).toBe(0);
    expect(changed('count\n  found B 101.00 g').count).toBe(0);
  });
});
