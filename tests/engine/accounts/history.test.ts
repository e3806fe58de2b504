/** Histories reconciled from pages: worked by hand beside each, then held to what must not change them, then to made journals. */
import { describe, expect, it } from 'vitest';
import { historiesOf } from '../../../server/engine/accounts/history';
import type { HistoryReading, ReconciledHistory } from '../../../server/engine/accounts/reconciled';
import { WORKSHOP_FILE } from '../../../server/workspace/update';
import type { Workspace } from '../../../server/workspace/workspace';
import { HISTORY_WORKSHOP, madeJournal } from '../../support/histories';
import { metalAlarms, metalFound } from '../../support/metal-alarms';
import { falseAlarms, foundRates, reconciledAll } from '../../support/suspects';
import { pageWorkspace, workspaceOf } from '../../support/workspace';

const only = (page: string, workshop?: string): ReconciledHistory => {
  const all = reconciledAll(pageWorkspace(page, workshop));
  expect(all).toHaveLength(1);
  return all[0]!;
};

const reading = ({ readings }: ReconciledHistory, what: string, verb: string, metal?: string): HistoryReading => {
  const found = readings.find((one) => one.what === what && one.entry.verb === verb && one.metal === metal);
  if (!found) throw new Error(`no reading of ${what} at ${verb}`);
  return found;
};

describe('a lot weighed again', () => {
  it('weighs the mean by the inverse squares of the uncertainties', () => {
    const history = only(
      '2026-05-04\nreceive A 50.00 g ±0.02 standard\n2026-05-05\nweigh A 50.03 g ±0.01 standard\n2026-05-06\nship V1 to north\n  in A 50.01 g ±0.01 standard',
    );
    // (50.00/4 + 50.03 + 50.01) / 2.25; u = 0.01/√2.25.
    const one = reading(history, 'A', 'weigh');
    expect(one.adjusted).toBeCloseTo(50.01777778, 7);
    expect(one.adjustedU).toBeCloseTo(0.01 / 1.5, 9);
    expect(history.test.freedom).toBe(2);
    // Σ (adjustment/u)² = 0.7901 + 1.4938 + 0.6049.
    expect(history.test.gamma).toBeCloseTo(2.8889, 3);
    expect(history.suspects).toEqual([]);
  });

  it('after a part was taken is what is left', () => {
    const history = only(
      '2026-05-04\nreceive A 50.00 g ±0.01 standard\n2026-05-05\ncast C1\n  in 20.00 g of A ±0.01 standard\n  out B 19.99 g bar ±0.01 standard\n2026-05-06\nweigh A 30.03 g ±0.01 standard',
    );
    // 50.00 = 20.00 + 30.03 is out by 0.03, a third to each; what the heat lost leaves 20.00 much as it is.
    expect(reading(history, 'A', 'receive').adjusted).toBeCloseTo(50.01, 2);
    expect(reading(history, 'A', 'weigh').adjusted).toBeCloseTo(30.02, 2);
  });

  it('is not held against its weight before drying', () => {
    const history = only('2026-05-04\nreceive A 50.00 g wet\n2026-05-05\nweigh A 46.10 g dry');
    expect(history.readings.map(({ shows }) => shows)).toEqual([undefined, undefined]);
    expect(history.suspects).toEqual([]);
  });
});

describe('a tare that two weighings have in common', () => {
  // Each is 0.05/√3 g unsure by the dish, and 0.01 g by the scale.
  const DISH = 'containers:\n  dish: { tare: 40.00 ±0.05 g }';
  const weighed = (first: string, second: string): string =>
    `2026-05-04\nreceive A\n  gross 90.00 g ±0.01 standard, tare ${first}\n2026-05-05\nweigh A\n  gross 90.02 g ±0.01 standard, tare ${second}`;

  it('falls out of their difference', () => {
    const history = only(weighed('dish', 'dish'), DISH);
    // The two gross weights alone: 0.02²/(2 · 0.01²) = 2.
    expect(history.test.gamma).toBeCloseTo(2, 6);
    // Half the variance of two scale readings, and all of the dish.
    const one = reading(history, 'A', 'weigh');
    expect(one.adjusted).toBeCloseTo(50.01, 9);
    expect(one.adjustedU).toBeCloseTo(Math.sqrt(0.01 ** 2 / 2 + 0.05 ** 2 / 3), 9);
  });

  it('of two vessels does not', () => {
    const history = only(weighed('dish', 'bowl'), `${DISH}\n  bowl: { tare: 40.00 ±0.05 g }`);
    const variance = 0.01 ** 2 + 0.05 ** 2 / 3;
    expect(history.test.gamma).toBeCloseTo(0.02 ** 2 / (2 * variance), 6);
    expect(reading(history, 'A', 'weigh').adjustedU).toBeCloseTo(Math.sqrt(variance / 2), 9);
  });
});

describe('a division', () => {
  it('closes exactly, each weight moved by its own uncertainty', () => {
    const history = only(
      '2026-05-04\nreceive A 100.00 g ±0.03 standard\nsplit Y1\n  in A\n  out B 60.00 g ±0.02 standard\n  out C 40.07 g ±0.02 standard',
    );
    // Out by 0.07: A takes 9/17 of it, B and C 4/17 each.
    expect(reading(history, 'A', 'receive').adjusted).toBeCloseTo(100 + (0.07 * 9) / 17, 7);
    expect(reading(history, 'B', 'split').adjusted).toBeCloseTo(60 - (0.07 * 4) / 17, 7);
    expect(history.test.freedom).toBe(1);
  });

  it('gives a piece that nobody weighed', () => {
    const history = only('2026-05-04\nreceive A 100.00 g\nsplit Y1\n  in A\n  out B 60.00 g\n  out C ?');
    const piece = history.unweighed.find(({ what }) => what === 'C');
    expect(piece?.value).toBeCloseTo(40, 9);
    expect(reading(history, 'B', 'split').shows).toBeUndefined();
  });
});

describe('metals', () => {
  it('tell of a weight through the fine metal', () => {
    const page = (bar: string) =>
      `2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 90.00 ±0.05 % standard\nreceive B 100.00 g\nassay B by fire\n  Au 50.00 ±0.05 % standard\nblend J1\n  in A\n  in B\n  out C 200.00 g\nassay C by fire\n  Au ${bar} ±0.05 % standard`;
    expect(only(page('70.02')).suspects).toEqual([]);
    const [suspect] = only(page('72.00')).suspects;
    expect(suspect).toBeDefined();
    // A weighs half of what C holds: an error of C's 2 % stands for 4 % of A or of B.
    expect([suspect!.reading, ...suspect!.alike].map((one) => one?.kind)).toContain('fineness');
  });

  it('of assays that each agree name the one that all together contradict', () => {
    const parts = [1, 2, 3, 4].map((at) => `assay B${at} by fire at lab-${at}\n  Au 89.83 ±0.10 % standard`).join('\n');
    const history = only(
      `2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 90.00 ±0.025 % standard\nsplit Y1\n  in A\n  out B1 25.00 g\n  out B2 25.00 g\n  out B3 25.00 g\n  out B4 25.00 g\n${parts}`,
    );
    const [suspect] = history.suspects;
    expect(suspect?.reading?.what).toBe('A');
    expect(suspect?.instead).toBeCloseTo(0.8983, 6);
    // Of the four others together.
    expect(suspect?.insteadU).toBeCloseTo(0.0005, 6);
    expect(suspect?.score).toBeCloseTo(0.0017 / Math.hypot(0.00025, 0.0005), 4);
    expect(history.without?.passes).toBe(true);
  });

  it('take no guess, claim or stamp for a reading', () => {
    const history = only(
      '2026-05-04\nreceive A ~100 g\n  stamp Au 14 k\ncast C1\n  in A\n  out B 80.00 g bar\nassay B by fire\n  Au 90.00 ±0.05 %',
    );
    expect(history.readings.map(({ what, kind }) => `${what} ${kind}`)).toEqual(['B mass', 'B fineness']);
    expect(history.readings.every(({ shows }) => shows === undefined)).toBe(true);
    expect(history.suspects).toEqual([]);
  });
});

describe('histories', () => {
  it('are cut where nothing ties lots together', () => {
    const workspace = pageWorkspace(
      '2026-05-04\nreceive A 10.00 g\nreceive B 10.00 g\nreceive C 10.00 g\nrelabel A to D\nsplit Y1\n  in B\n  out E 4.00 g\n  out F 6.00 g\nship V1 to north\n  in C\n  in D',
    );
    expect(historiesOf(workspace.book).map(({ stories }) => stories.map(({ name }) => name).sort())).toEqual([
      ['A', 'D'],
      ['B', 'E', 'F'],
      ['C'],
    ]);
  });
});

/** All that is said of every reading, whatever page it stands on. */
const told = (workspace: Workspace, scale = 1): Map<string, readonly number[]> =>
  new Map(
    reconciledAll(workspace).flatMap(({ readings, test }) =>
      readings.map((one) => {
        const by = one.kind === 'mass' ? scale : 1;
        return [
          `${one.what} ${one.entry.verb} ${one.entry.name?.name} ${one.metal} ${(one.value / by).toPrecision(9)}`,
          [one.adjusted / by, one.adjustedU / by, one.score ?? -1, test.gamma],
        ];
      }),
    ),
  );

const expectAlike = (one: Map<string, readonly number[]>, other: Map<string, readonly number[]>): void => {
  expect([...other.keys()].sort()).toEqual([...one.keys()].sort());
  for (const [key, figures] of one)
    for (const [at, figure] of figures.entries())
      expect(other.get(key)![at], key).toBeCloseTo(figure, Math.abs(figure) > 100 ? 5 : 6);
};

/** Days of a made journal, each with its entries. */
const daysOf = (text: string): readonly string[] => text.split(/\n(?=2026-)/).map((day) => day.trim());

const entriesOf = (day: string): readonly string[] =>
  day
    .split('\n')
    .slice(1)
    .join('\n')
    .split(/\n(?=\S)/);

describe('what must not change a result', () => {
  const seeds = [1, 2, 3, 4, 5, 6];
  const workspaceFor = (pages: Readonly<Record<string, string>>): Workspace =>
    workspaceOf({ ...pages, [WORKSHOP_FILE]: HISTORY_WORKSHOP });

  it.each(seeds)('other lots and assays of one day in another order (%i)', (seed) => {
    const { text } = madeJournal(seed);
    const turned = daysOf(text)
      .map((day) => {
        const [head] = day.split('\n');
        // What a day makes must stand above what is done with it; assays of the day, and lots that come in, may change places.
        const entries = entriesOf(day);
        const assays = entries.filter((entry) => entry.startsWith('assay'));
        return [head, ...entries.filter((entry) => !entry.startsWith('assay')), ...assays.reverse()].join('\n');
      })
      .join('\n');
    expectAlike(told(workspaceFor({ 'page.melt': text })), told(workspaceFor({ 'page.melt': turned })));
  });

  it.each(seeds)('the page split over files (%i)', (seed) => {
    const { text } = madeJournal(seed);
    const days = daysOf(text);
    const half = Math.floor(days.length / 2);
    const split = { 'b.melt': days.slice(0, half).join('\n'), 'a.melt': days.slice(half).join('\n') };
    expectAlike(told(workspaceFor({ 'page.melt': text })), told(workspaceFor(split)));
  });

  it.each(seeds)('the unit of a weight (%i)', (seed) => {
    const { text } = madeJournal(seed);
    const kilos = text.replace(/(\d+)\.(\d\d) g/g, (_, whole: string, rest: string) => {
      const digits = whole.padStart(4, '0');
      return `${digits.slice(0, -3).replace(/^0+(?=\d)/, '')}.${digits.slice(-3)}${rest} kg`;
    });
    expect(kilos).not.toBe(text);
    expectAlike(told(workspaceFor({ 'page.melt': text })), told(workspaceFor({ 'page.melt': kilos })));
  });

  it.each(seeds)('a larger scale of all weights, which are then as much larger (%i)', (seed) => {
    // Without a scale named the last digit speaks for the error, so it grows with the weight.
    const plain = madeJournal(seed).text.replaceAll(' on bench', '');
    const tenfold = plain.replace(/(\d+)\.(\d)(\d) g/g, '$1$2.$3 g');
    const [one, ten] = [pageWorkspace(plain), pageWorkspace(tenfold)];
    expectAlike(told(one), told(ten, 10));
  });
});

describe('lots that are nearly all metal', () => {
  it('settle, though their metals may come to no more than the whole', () => {
    const history = only(
      '2026-05-20\npart P8\n  in G 118.31 g shot\n  add nitric-acid 160 mL\n  out S 31.44 g sponge\n  out L 1.15 L solution\n2026-05-22\ncast P9\n  in S 31.44 g\n  add borax-glass 0.80 g\n  out B 31.43 g bar\n  out 0.78 g slag\nassay B by xrf\n  Au 99.7 %  Ag 0.2 %',
    );
    expect(history.converged).toBe(true);
    expect(history.suspects).toEqual([]);
    for (const { value, adjusted, u } of history.readings) expect(Math.abs(adjusted - value)).toBeLessThan(3 * u);
  });
});

describe('made journals', () => {
  it('that are honest are seldom suspected', () => {
    const count = 60;
    const { suspects, unsettled } = falseAlarms(count, 20260504);
    console.log(`${suspects} of ${count} honest histories name a suspect`);
    expect(unsettled).toBe(0);
    expect(suspects / count).toBeLessThanOrEqual(0.05);
  });

  it('with one checked reading off by ten times its uncertainty show it', () => {
    const { trials, found, first } = foundRates(60, 7_100_000, [10, 10], false);
    console.log(`of ${trials} histories with one wrong reading ${found} are suspected, ${first} name it first`);
    expect(found / trials).toBeGreaterThanOrEqual(0.9);
    expect(first / trials).toBeGreaterThanOrEqual(0.8);
  });

  it('that are honest are seldom told of missing metal, though one balance in twenty is beyond two uncertainties', () => {
    const count = 80;
    const { balances, beyond2, told } = metalAlarms(count, 5_000_000, 8);
    console.log(`${beyond2} of ${balances} honest balances beyond 2 u; ${told} of ${count} histories are told of one`);
    expect(balances / count).toBeGreaterThan(5);
    expect(beyond2 / balances).toBeLessThan(0.08);
    expect(told / count).toBeLessThanOrEqual(0.04);
  });

  it('with one assay off by ten times its uncertainty are told of missing metal, or too much', () => {
    const { trials, byBalance } = metalFound(40, 6_100_000, 10, 8);
    console.log(`of ${trials} histories with one wrong assay ${byBalance} are told of by a balance`);
    expect(byBalance / trials).toBeGreaterThanOrEqual(0.6);
  });
});

describe('a wrong reading that pushes losses against their bound', () => {
  it('is the one suspect, and what it pulled at is told as it is without it', () => {
    // B2 is 200.38 g by the blend, and 0.06 g of it is lost in T2; 204.38 g would be a gain of 3.94 g, which no loss can be.
    const history = only(
      [
        '2026-05-04\nreceive A 412.36 g\nsplit Y1\n  in A 412.36 g\n  out A1 100.12 g\n  out A2 200.44 g\n  out A3 111.80 g',
        'cast T1\n  in A1 100.12 g\n  out B1 100.08 g bar\ncast T2\n  in A2 200.44 g\n  out B2 204.38 g bar',
        'cast T3\n  in A3 111.80 g\n  out B3 111.77 g bar',
        'blend J1\n  in B1 100.08 g\n  in B2 200.38 g\n  in B3 111.77 g\n  out J1x 412.23 g',
      ].join('\n'),
    );
    expect(history.test.passes).toBe(false);
    expect(history.suspects.map(({ reading: one }) => [one?.what, one?.value])).toEqual([['B2', 204.38]]);
    expect(history.suspects[0]!.instead).toBeCloseTo(200.38, 2);
    expect(history.without!.passes).toBe(true);
    expect(reading(history, 'A1', 'cast').adjusted).toBeCloseTo(100.12, 2);
    expect(reading(history, 'J1x', 'blend').adjusted).toBeCloseTo(412.23, 2);
  });
});
