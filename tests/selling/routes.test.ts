/** Sell as it is, or refine further: the sample's two buttons, break-evens by direct payout, and drawn cases against the closed form. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bestFor, breakEvenFineness, breakEvenShare, compare } from '../../server/engine/selling/compare';
import { commonDeal } from '../../server/engine/selling/deal';
import { type Buyer, evenly, type Factor, outcomeOf, type Route } from '../../server/engine/selling/route';
import { CUPEL_FACTORS } from '../../server/engine/selling/work';
import { normalQuantile } from '../../server/engine/statistics/distributions';
import { decimal } from '../../server/quantity/decimal';
import { money } from '../../server/quantity/money';
import { findingsOf } from '../../server/rules/findings';
import { dayNumber } from '../../server/text/calendar';
import { type Routes, routesOf } from '../../server/workspace/selling/routes';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { seeded } from '../support/random';
import { pageWorkspace, said } from '../support/workspace';

const SAMPLE = resolve(__dirname, '../../samples/selling');

const texts = (): Map<string, string> =>
  new Map(readdirSync(SAMPLE).map((name) => [name, readFileSync(join(SAMPLE, name), 'utf8')]));

const sample = (change: (text: string) => string = (text) => text): Workspace =>
  withTexts(emptyWorkspace('selling'), new Map([...texts()].map(([name, text]) => [name, change(text)])));

const routes = (workspace: Workspace, lot: string): Routes => {
  const found = routesOf(workspace, lot);
  if (typeof found === 'string') throw new Error(found);
  return found;
};

/** What the best ways as it is and with work pay on a journal as written: nothing but its pages goes in. */
const paid = (workspace: Workspace, lot: string): { readonly direct: number; readonly further: number } => {
  const { ranked } = routes(workspace, lot);
  const net = (test: (key: Route['key'], party: string | undefined) => boolean): number =>
    ranked.find(({ route }) => test(route.key, route.buyer.party))!.outcome.net.amount.toNumber();
  return {
    direct: net((key, party) => key === 'sell' && party === 'fell-buyer'),
    further: net((key, party) => key === 'cupel' && party === 'quay-refiner'),
  };
};

describe('the two buttons of the sample', () => {
  test('for the one refining pays, by more than twice its uncertainty', () => {
    const { refining, ranked } = routes(sample(), 'BTN-A');
    expect([refining!.further.route.key, refining!.further.route.buyer.party]).toEqual(['cupel', 'quay-refiner']);
    expect(refining!.direct.route.buyer.party).toBe('fell-buyer');
    expect(refining!.comparison.gain).toBeGreaterThan(2 * refining!.comparison.u);
    expect(refining!.comparison.cases).toBeGreaterThanOrEqual(98);
    expect(ranked[0]).toBe(refining!.further);
  });

  test('for the other it does not, by more than twice its uncertainty', () => {
    const { refining, ranked } = routes(sample(), 'BTN-B');
    expect(refining!.comparison.gain).toBeLessThan(-2 * refining!.comparison.u);
    expect(refining!.comparison.cases).toBeLessThanOrEqual(2);
    expect(ranked[0]).toBe(refining!.direct);
  });

  test('the sum of the direct way, by hand', () => {
    // fell-buyer pays 94 % of the gold and 70 % of the silver, less 1 %:
    // 64.12 × 0.684 = 43.85808 g × 0.94 × 2580 / 31.1034768 = 3419.70; 64.12 × 0.172 × 0.7 × 30.80 / 31.1034768 = 7.64;
    // less 1 % of 3427.34 = 34.27.
    expect(paid(sample(), 'BTN-A').direct).toBe(3393.07);
  });

  for (const [lot, assay] of [
    ['BTN-A', 'Au 68.4 %, Ag 17.2 %'],
    ['BTN-B', 'Au 55.8 %, Ag 16.1 %'],
  ] as const) {
    test(`at the break-even fineness of ${lot}, written into its assay, both ways pay the same; on either side one of them`, () => {
      const at = routes(sample(), lot).refining!.fineness()!;
      expect(at.jumps).toBe(false);
      const written = (fineness: number) =>
        paid(
          sample((text) => text.replace(assay, assay.replace(/Au [\d.]+/, `Au ${(100 * fineness).toFixed(9)}`))),
          lot,
        );
      const even = written(at.at);
      // Each line is rounded to a coin: seven of them stand in the two sums.
      expect(Math.abs(even.further - even.direct)).toBeLessThanOrEqual(0.07);
      const [above, below] = [written(at.at + 0.0015), written(at.at - 0.01)];
      expect(above.further).toBeGreaterThan(above.direct);
      expect(below.further).toBeLessThan(below.direct);
    });

    test(`at the break-even share of ${lot}, written into the terms, both ways pay the same`, () => {
      const at = routes(sample(), lot).refining!.share()!;
      const even = paid(
        sample((text) =>
          text.replace('pays: { Au: 94 %, Ag: 70 % }', `pays: { Au: ${(100 * at.at).toFixed(9)} %, Ag: 70 % }`),
        ),
        lot,
      );
      expect(Math.abs(even.further - even.direct)).toBeLessThanOrEqual(0.07);
    });
  }

  test('what the work costs stands item by item, from the shelf and the wage', () => {
    const { ranked } = routes(sample(), 'BTN-A');
    const { outcome } = ranked.find(({ route }) => route.key === 'cupel')!;
    expect(outcome.costs.map(({ what }) => what)).toEqual(['labour, cupel', 'lead']);
    // Two hours at 28.00; lead 16 for one of base metal, 64.12 × 0.144 × 16 = 147.7 g at 4.20 a kilogram.
    expect(outcome.costs.map((one) => one.money?.amount.toString())).toEqual(['56', '0.62']);
  });
});

describe('waiting for the money', () => {
  const waited = (workspace: Workspace, key: Route['key'], party: string) =>
    routes(workspace, 'BTN-A').ranked.find(({ route }) => route.key === key && route.buyer.party === party)!;
  const atInterest = sample((text) => text.replace('labour: 28.00 USD/h', 'labour: 28.00 USD/h\n  interest: 7.3 %'));

  test('costs nothing that is not written', () => {
    expect(waited(sample(), 'sell', 'fell-buyer').outcome.costs).toEqual([]);
  });

  test('costs the interest of its days, which can turn the choice', () => {
    // 7.3 % a year are 0.02 % a day: 3471.65 × 15 days = 10.41; 3393.07 × 3 days = 2.04.
    const [further, direct] = [waited(atInterest, 'cupel', 'quay-refiner'), waited(atInterest, 'sell', 'fell-buyer')];
    expect(further.outcome.paid.amount.toString()).toBe('3471.65');
    expect(further.outcome.costs.at(-1)).toMatchObject({ what: 'waiting', size: '15 days at 7.3 %' });
    expect(further.outcome.costs.at(-1)!.money!.amount.toString()).toBe('10.41');
    expect(direct.outcome.costs.map((one) => one.money!.amount.toString())).toEqual(['2.04']);
    const [without, with_] = [sample(), atInterest].map((one) => routes(one, 'BTN-A').refining!.comparison.gain);
    expect(without! - with_!).toBeCloseTo(10.41 - 2.04, 6);
  });

  test('moves the fineness at which both ways pay the same, and there they do', () => {
    const [without, at] = [sample(), atInterest].map((one) => routes(one, 'BTN-A').refining!.fineness()!);
    expect(at!.at).toBeGreaterThan(without!.at);
    const even = paid(
      sample((text) =>
        text
          .replace('labour: 28.00 USD/h', 'labour: 28.00 USD/h\n  interest: 7.3 %')
          .replace('Au 68.4 %, Ag 17.2 %', `Au ${(100 * at!.at).toFixed(9)} %, Ag 17.2 %`),
      ),
      'BTN-A',
    );
    expect(Math.abs(even.further - even.direct)).toBeLessThanOrEqual(0.09);
  });
});

test('what is charged for a shipment is charged once, though gold and silver are paid apart', () => {
  const { ranked } = routes(sample(), 'BTN-A');
  const { outcome } = ranked.find(
    ({ route }) => route.key === 'cupel and part' && route.buyer.party === 'quay-refiner',
  )!;
  const [gold, silver] = outcome.payouts.map(({ charges }) => charges.map(({ word }) => word));
  expect(gold).toEqual(['melting', 'assay', 'refining']);
  expect(silver).toEqual(['refining']);
});

/** A buyer by the gram, whose terms are easy to follow. */
const buyer = (share: string, price = 80): Buyer => ({
  party: 'quay-refiner',
  by: 'terms',
  deal: commonDeal(decimal(share)),
  currency: 'USD',
  priceFor: (metal) => (metal === 'Au' ? { ...money(price, 'USD'), perGrams: decimal(1) } : undefined),
  convert: (of) => of,
  minimumGrams: undefined,
  days: undefined,
});

const LOSS = evenly('gold kept', 0.985, 0.995);

const directRoute = (share: string, factors: readonly Factor[]): Route => ({
  key: 'sell',
  buyer: buyer(share),
  factors,
  work: (given) => ({
    pieces: [{ grams: given.get('grams')!, gold: given.get('gold')!, silver: 0 }],
    costs: [],
    part: 1,
  }),
  days: 0,
  assumed: [],
});

const furtherRoute = (share: string, cost: number, factors: readonly Factor[]): Route => ({
  key: 'cupel',
  buyer: buyer(share),
  factors: [...factors, LOSS],
  work: (given) => ({
    pieces: [{ grams: given.get('grams')! * given.get('gold')! * given.get('gold kept')!, gold: 1, silver: 0 }],
    costs: [{ what: 'all', size: '', money: money(cost, 'USD') }],
    part: 1,
  }),
  days: 1,
  assumed: [],
});

const factors = (grams: number, gold: number, u: number): readonly Factor[] => [
  { name: 'grams', best: grams, u: 0.01, shape: 'normal' },
  { name: 'gold', best: gold, u, shape: 'normal' },
];

describe('the gain of refining', () => {
  test('as published: 40 g fine at 80, 95 % now and 98.5 % later, 1 % lost, 60 of cost: 20.48', () => {
    const of = factors(50, 0.8, 0.004);
    const { gain } = compare(furtherRoute('0.985', 60, of), directRoute('0.95', of));
    expect(gain).toBeCloseTo(20.48, 2);
  });

  test('an error of the fineness moves both ways, and falls out of their difference but for the cost', () => {
    const of = factors(50, 0.8, 0.004);
    const { u } = compare(furtherRoute('0.985', 60, of), directRoute('0.95', of));
    // By the loss: 40 × 80 × 0.985 × 0.01 / √12 = 9.10; by the fineness: 50 × 0.004 × 80 × (0.99 × 0.985 − 0.95) = 0.40.
    expect(u).toBeCloseTo(Math.hypot(9.099, 0.4024), 1);
  });

  test('in so many of a hundred drawn cases as the closed form says', () => {
    const random = seeded(20261001);
    const uniform = (): number => Math.min(1 - 1e-12, Math.max(1e-12, random.next()));
    for (const [cost, u] of [
      [60, 0.004],
      [75, 0.004],
      [85, 0.02],
      [95, 0.004],
    ] as const) {
      const of = factors(50, 0.8, u);
      const [further, direct] = [furtherRoute('0.985', cost, of), directRoute('0.95', of)];
      const { cases, gain, u: spread } = compare(further, direct);
      const draws = 4000;
      let better = 0;
      let [sum, squares] = [0, 0];
      for (let draw = 0; draw < draws; draw++) {
        const given = new Map(
          further.factors.map(({ name, best, u: size, shape }) => [
            name,
            best + size * (shape === 'even' ? Math.sqrt(3) * (2 * uniform() - 1) : normalQuantile(uniform())),
          ]),
        );
        const drawn = outcomeOf(further, given).net.amount.minus(outcomeOf(direct, given).net.amount).toNumber();
        if (drawn > 0) better++;
        sum += drawn;
        squares += drawn * drawn;
      }
      const mean = sum / draws;
      const deviation = Math.sqrt(squares / draws - mean * mean);
      // The error of 4000 draws at one half is 0.8 in a hundred; an even loss is not quite normal, which makes two or three more.
      expect(Math.abs((100 * better) / draws - cases)).toBeLessThan(4);
      expect(Math.abs(mean - gain)).toBeLessThan((4 * spread) / Math.sqrt(draws));
      expect(deviation / spread).toBeGreaterThan(0.95);
      expect(deviation / spread).toBeLessThan(1.05);
    }
  });

  test('the break-even is where both pay the same, whatever the terms', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 20, max: 300 }),
        fc.integer({ min: 5, max: 200 }),
        fc.integer({ min: 9000, max: 9600 }),
        fc.integer({ min: 9750, max: 9990 }),
        (grams, cost, now, later) => {
          const of = factors(grams, 0.6, 0.004);
          const [further, direct] = [furtherRoute(`${later / 10000}`, cost, of), directRoute(`${now / 10000}`, of)];
          const best = bestFor(further, direct);
          const at = breakEvenFineness(further, direct);
          // In the lot's own terms: cost / (grams × price × (0.99 × later − now)).
          const wanted = cost / (grams * 80 * ((0.99 * later) / 10000 - now / 10000));
          if (wanted > 0.02 && wanted < 0.98) {
            // As near as a coin of rounding lets it be seen.
            expect(Math.abs(at!.at - wanted) / wanted).toBeLessThanOrEqual(0.02 / cost);
            const given = new Map(best).set('gold', at!.at);
            const apart = outcomeOf(further, given).net.amount.minus(outcomeOf(direct, given).net.amount);
            expect(apart.abs().toNumber()).toBeLessThanOrEqual(0.02);
          }
          const share = breakEvenShare(direct, further)!;
          const evened = outcomeOf(direct, best, decimal(Number(share.at.toPrecision(15)))).net.amount;
          expect(evened.minus(outcomeOf(further, best).net.amount).abs().toNumber()).toBeLessThanOrEqual(0.02);
        },
      ),
      { seed: 20261001, numRuns: 60 },
    );
  });

  test('what stays of the metals is what the metal accounts go by', () => {
    expect(CUPEL_FACTORS.map(({ best }) => best)).toEqual([0.997, 0.98]);
  });
});

const SHOP = `shop: { currency: USD, labour: 30.00 USD/h }
parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 %, Ag: 90 % }
        minimum: 40 g
`;

const PAGE = `2026-05-04
quote Au 2480.00 USD/ozt
quote Ag 29.00 USD/ozt
receive A 25.00 g
assay A by fire, corrected
  Au 90.00 %, Ag 9.00 %
receive B 30.00 g
assay B by fire, corrected
  Au 80.00 %, Ag 19.00 %
receive C 10.00 g
`;

describe('routes', () => {
  test('below the least lot it is melted together with others of ours, and paid by its part of their worth', () => {
    const { ranked } = routes(pageWorkspace(PAGE, SHOP), 'A');
    const together = ranked.find(({ route }) => route.key === 'melt together')!;
    expect(together.taken).toBe(true);
    expect(ranked.filter(({ taken }) => taken)).toEqual([together]);
    // 22.5 of 46.5 g fine gold, nearly: of the silver there is hardly a worth.
    expect(together.outcome.worked.part).toBeCloseTo(22.5 / 46.5, 2);
    expect(together.route.assumed.at(-1)!.says).toContain('melted with B');
    // The melt is work for both of them.
    const { costs } = routes(
      pageWorkspace(PAGE, `shop: { currency: USD, labour: 40.00 USD/h }\n${SHOP}`),
      'A',
    ).ranked.find(({ route }) => route.key === 'melt together')!.outcome;
    expect(costs[0]!.money!.amount.toNumber()).toBeCloseTo(40 * together.outcome.worked.part, 1);
  });

  test('with no terms at all by common practice, with its range', () => {
    const { ranked } = routes(pageWorkspace(PAGE), 'A');
    const sell = ranked.find(({ route }) => route.key === 'sell')!;
    expect(sell.route.buyer.by).toBe('common practice');
    // 22.5 g × 0.925 × 2480 / 31.1034768 = 1659.46; u of the share 0.05 / √12 of 1794.
    expect(sell.outcome.net.amount.toNumber()).toBeCloseTo(1659.46, 1);
    expect(sell.u).toBeCloseTo((0.05 / Math.sqrt(12)) * 1794.01, 0);
  });

  test('to hold is ranked: the best way as it is, later, with the days paid for and the price as sure as its quotes', () => {
    const shop = SHOP.replace('minimum: 40 g', 'days: 3').replace(
      'labour: 30.00 USD/h',
      'labour: 30.00 USD/h, interest: 7.3 %',
    );
    const moved = `2026-03-01
quote Au 2400.00 USD/ozt
2026-03-02
quote Au 2448.00 USD/ozt
2026-03-04
quote Au 2400.00 USD/ozt
2026-03-05
quote Au 2448.00 USD/ozt
2026-03-09
quote Au 2400.00 USD/ozt
${PAGE}`;
    const of = (page: string) => {
      const { ranked } = routes(pageWorkspace(page, shop), 'A');
      return {
        sell: ranked.find(({ route }) => route.key === 'sell')!,
        hold: ranked.find(({ route }) => route.key === 'hold')!,
        ranked,
      };
    };
    const { sell, hold, ranked } = of(moved);
    expect(hold.route.days).toBe(33);
    expect(hold.outcome.paid).toEqual(sell.outcome.paid);
    // 0.02 % a day for 30 days more.
    const more = sell.outcome.net.amount.minus(hold.outcome.net.amount).toNumber();
    expect(more).toBeCloseTo(sell.outcome.paid.amount.toNumber() * 0.0002 * 30, 1);
    expect(ranked.indexOf(hold)).toBeGreaterThan(ranked.indexOf(sell));
    // ln 1.02 squared by 1, 2, 1, 4 days, and ln(2480 / 2400) squared by the days to the page's own quote.
    const days = [1, 2, 1, 4, dayNumber('2026-05-04') - dayNumber('2026-03-09')];
    const squares = days.map((apart, at) => Math.log(at < 4 ? 1.02 : 2480 / 2400) ** 2 / apart);
    const move = Math.sqrt((squares.reduce((sum, one) => sum + one, 0) / 5) * 30);
    // What is paid, less 0.02 % of it a day for 33 days.
    expect(hold.u).toBeCloseTo(Math.hypot(sell.u, sell.outcome.paid.amount.toNumber() * move) * (1 - 33 * 0.0002), 0);
    expect(hold.route.assumed.at(-1)!.says).toContain(`moves by ${(100 * move).toPrecision(2)} % in as many days`);
    expect(of(PAGE).hold.route.assumed.at(-1)!.says).toContain('fewer than six quotes of gold are written');
  });

  test('why there is none is said', () => {
    const why = (page: string, lot: string, shop?: string) => routesOf(pageWorkspace(page, shop), lot);
    expect(why(PAGE, 'D')).toBe('no such lot');
    expect(why(PAGE, 'C')).toBe('gold not known');
    expect(why(PAGE.replaceAll('quote', 'note'), 'A')).toBe('no price');
    expect(why(`${PAGE}ship V1 to quay-refiner\n  in A`, 'A')).toBe('not on hand');
    expect(why(PAGE.replace('receive A 25.00 g', 'receive A 25.00 g, owner high-fell'), 'A')).toBe('not ours');
    expect(why(`${PAGE}melt M1\n  in B\n  out E 29.00 g button\n  out F 3.00 g slag`, 'F')).toBe('no metal');
  });

  test('a plan to refine what does not pay is told once, at the plan, and no more when the price that made it so has changed', () => {
    const shop = SHOP.replace(
      'pays: { Au: 98 %, Ag: 90 % }\n        minimum: 40 g',
      'pays: { Au: { 30 %: 95 %, 70 %: 98 % }, Ag: 90 % }',
    );
    const page = (price: string) =>
      `2026-05-04\nquote Au ${price} USD/ozt\nreceive A 60.00 g\nassay A by fire, corrected\n  Au 60.00 %, Ag 20.00 %\nplan cupel K1\n  in A\n  add lead 200 g\n`;
    let workspace = pageWorkspace(page('1200.00'), shop);
    expect(said(workspace).filter((one) => one.startsWith('refining'))).toEqual(['refining-not-worth at "cupel"']);
    workspace = withTexts(workspace, new Map([['page.melt', page('9999.00')]]));
    expect(findingsOf(workspace, 'page.melt').map(({ code }) => code)).not.toContain('refining-not-worth');
  });
});
