/** The trading account: figures worked by hand from the sample shop's sales, and small pages with what must be said of them. */
import { describe, expect, it } from 'vitest';
import type { Choice } from '../../server/documents/choice';
import type { Cell, Document } from '../../server/documents/model';
import { settledSays } from '../../server/reports/selling/settled';
import { routesOf } from '../../server/workspace/selling/routes';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import type { Workspace } from '../../server/workspace/workspace';
import { made, ofPage, sampleWorkspace } from '../support/documents';

const selling = sampleWorkspace('selling');

const account = (workspace: Workspace, choice: Choice = {}): Document => made(workspace, 'trading-account', choice);

/** The cell of a row, by the section's first words, the first cell of the row and the head of the column. */
const cell = (document: Document, title: string, row: string, head: string): Cell | undefined => {
  for (const { title: own, blocks } of document.sections) {
    if (!own.startsWith(title)) continue;
    for (const block of blocks) {
      if (block.form !== 'table') continue;
      const at = block.columns.findIndex((column) => column.head === head);
      return block.rows.find(({ cells }) => cells[0]!.text === row)?.cells[at];
    }
  }
  return undefined;
};

const text = (...of: Parameters<typeof cell>): string | undefined => cell(...of)?.text;

const told = (document: Document, title: string): string =>
  document.sections
    .filter((one) => one.title.startsWith(title))
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'sentences' ? block.sentences : [])))
    .map((one) => one.text)
    .join('\n');

const BOUGHT = 'What purchases brought';
const BUYERS = 'What buyers pay';
const OPEN = 'Not paid for yet';
const TOLL = 'Work on customers';
const SLAG = 'Slag';
const COST = 'What a fine gram costs';

describe('the sample shop', () => {
  const document = account(selling);

  it('what a purchase left over is what its settlement paid, less its price', () => {
    // S2 paid 3643.04 USD for the bar of RG-40, which was bought for 3480.00 USD: 163.04 USD, 4.7 % of 3480.00.
    expect(text(document, BOUGHT, 'RG-40', 'brought so far')).toBe('3643.04 USD');
    expect(text(document, BOUGHT, 'RG-40', 'left over')).toBe('163.04 USD');
    expect(text(document, BOUGHT, 'RG-40', 'of what was paid')).toBe('4.7 %');
    // 83.90 g at 57.10 % are 47.9069 g of gold. Bought at 2552.00 USD/ozt and settled at 2548.00: 47.9069 × -4.00 / 31.1034768 = -6.16 USD.
    expect(text(document, BOUGHT, 'RG-40', 'made by the gold price')).toBe('-6.16 USD');
    expect(text(document, BOUGHT, 'RG-40', 'so')).toBe('sold: S2');
  });

  it('what is expected of a buyer is our own weight and assay by the terms on file', () => {
    // Gold 112.05 × 0.9142 × 0.9875 = 101.155659 g at 2561.00 / 31.1034768 USD/g: 8328.96 USD. Silver 112.05 × 0.079 = 8.85195 g, they keep
    // 5 g: 3.85195 g at 30.40 / 31.1034768: 3.76 USD. Charges 40.00 + 35.00 + 0.25 × 112.05 = 103.01 USD. In all 8229.71 USD.
    expect(cell(document, BUYERS, 'S1', 'expected')!.figure!.value).toBe('8229.71');
    expect(text(document, BUYERS, 'S1', 'comes to')).toBe('8209.76 USD');
    expect(Number(cell(document, BUYERS, 'S1', 'more than expected')!.figure!.value)).toBeCloseTo(8209.76 - 8229.71, 2);
    expect(text(document, BUYERS, 'S1', 'days')).toBe('7');
    expect(told(document, BUYERS)).toContain(
      'S4: by the journal 706.11 USD is still owed; `fineweight settle S4` tells why.',
    );
    expect(told(document, BUYERS)).toContain('quay-refiner: 3 sales are few: read nothing fine into them.');
  });

  it('a fall of the price is reckoned by the same terms, and held against what was paid', () => {
    // BTN-B: gold 46.15 × 0.558 × 0.94 = 24.206598 g, silver 46.15 × 0.161 × 0.70 = 5.201105 g. At 0.95 of 2580.00 and 30.80 USD/ozt:
    // 1907.50 and 4.89 USD, 1 % of it handling 19.12: 1893.27 USD. Paid 2010.00: 116.73 short, as it is rounded line by line 116.71.
    const left = Number(cell(document, OPEN, 'BTN-B', 'left over then')!.figure!.value);
    const price = 0.95 / 31.1034768;
    const lines = [24.206598 * 2580 * price, 5.201105 * 30.8 * price].map((value) => Math.round(100 * value) / 100);
    const value = lines[0]! + lines[1]!;
    expect(left).toBeCloseTo(value - Math.round(value) / 100 - 2010, 2);
    expect(told(document, OPEN)).toContain('BTN-B hurts: 5 % lower it brings 116.71 USD less than was paid for it.');
    expect(told(document, OPEN)).not.toContain('BTN-A hurts');
  });

  it('what is here would bring what `routes` says of selling it as it is', () => {
    for (const lot of ['BTN-A', 'BTN-B']) {
      const routes = routesOf(selling, lot);
      if (typeof routes === 'string') throw new Error(routes);
      const direct = routes.ranked.find(({ route, taken }) => taken && route.key === 'sell')!;
      expect(cell(document, OPEN, lot, 'would bring')!.figure!.value).toBe(direct.outcome.net.amount.toFixed());
    }
  });

  it('what would cover work for a customer is its cost, less the metal that is left to us', () => {
    // One melt, 1 h at 28.00 USD/h; no flux has a price. Of 52.86 g of gold 98 % has to go back, and 52.04 g came of it as metal.
    expect(text(document, TOLL, 'HB-3', 'labour')).toBe('28.00 USD');
    const over = Number(cell(document, TOLL, 'HB-3', 'metal left to us')!.figure!.value);
    expect(Number(cell(document, TOLL, 'HB-3', 'would cover it')!.figure!.value)).toBeCloseTo(28 - over, 2);
    expect(text(document, TOLL, 'HB-3', 'agreed')).toBe('114.64 USD');
    expect(told(document, TOLL)).toContain('Not counted for want of a price: borax-glass');
    expect(told(document, TOLL)).toContain('One lot of scrap is few');
  });

  it('slag that stays here by the terms is held against the cost of a heat', () => {
    // Such a heat takes 1 h: 28.00 USD. At 2580.00 USD/ozt that is 28.00 × 31.1034768 / 2580.00 = 0.337557 g of gold, in 7.10 g of slag 47543 g a tonne.
    expect(text(document, SLAG, 'M83.slag', 'a heat costs')).toBe('28.00 USD');
    expect(Number(cell(document, SLAG, 'M83.slag', 'pays from')!.figure!.value)).toBeCloseTo(47543.3, 1);
    expect(text(document, SLAG, 'M83.slag', 'so')).toBe('no');
  });

  it('the cost of a fine gram is all costs over the gold that was sold', () => {
    // Six steps of 1 h are 168.00 USD; charges 102.96 + 95.92 + 98.53 = 297.41 USD; gold 102.44 + 47.91 + 85.68 + 9.52 + 19.46 + 5.28 g.
    expect(text(document, COST, 'labour', 'in USD')).toBe('168.00 USD');
    expect(text(document, COST, "buyers' charges", 'in USD')).toBe('297.41 USD');
    expect(told(document, COST)).toContain('Divided by 270.3 g ±0.3');
    expect(text(document, COST, "buyers' charges", 'for each gram of gold sold')).toBe('1.10 USD');
  });

  it('rent and the like go in by the days of each month, what carrying cost by its bills', () => {
    // From 2026-09-01 to 2026-10-01: the whole of one month of 465.00 USD, and one day of 31 of the next, 15.00 USD.
    expect(text(document, COST, 'overhead', 'in USD')).toBe('480.00 USD');
    expect(text(document, COST, 'freight', 'in USD')).toBe('41.50 USD');
    expect(text(document, COST, 'freight', 'of what')).toBe('2 bills');
    const september = account(selling, { from: '2026-09-01', to: '2026-09-30' });
    expect(text(september, COST, 'overhead', 'in USD')).toBe('465.00 USD');
  });
});

describe('what our own sources brought', () => {
  const PAGE = `2026-04-20
receive A 10.00 g from own-dredge
assay A by fire
  Au 80.0 %

2026-05-10
receive B 15.00 g from own-dredge
assay B by fire
  Au 80.0 %
receive C 40.00 g from own-dredge
receive S 500 g from seller
  bought 10.00 USD`;
  const SHOP = 'parties: { own-dredge: own, seller: supplier }\n';
  const CLEAN = 'What our own sources brought';
  const rows = (document: Document): readonly (readonly string[])[] =>
    document.sections
      .filter(({ title }) => title.startsWith(CLEAN))
      .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])))
      .map(({ cells }) => cells.map((one) => one.text));

  it('a clean-up belongs to the days since the one before', () => {
    // A: 8.00 g to its own month. B: 12.00 g over 21 April to 10 May, ten days in each month.
    const document = account(ofPage(PAGE, SHOP));
    expect(rows(document).map(([source, month, gold, lots]) => [source, month, gold!.split(' ')[0], lots])).toEqual([
      ['own-dredge', '2026-04', '14.00', '2'],
      ['own-dredge', '2026-05', '6.000', '1'],
    ]);
    expect(told(document, CLEAN)).toContain('Not in it, as nothing tells their gold: C.');
    expect(rows(account(ofPage(PAGE, SHOP), { from: '2026-05-01', to: '2026-05-31' }))).toHaveLength(1);
  });

  it('of one clean-up nothing is said', () => {
    expect(rows(account(ofPage(PAGE.slice(0, PAGE.indexOf('\n\n')), SHOP)))).toEqual([]);
  });
});

describe('what the notes do not allow is said', () => {
  it('a purchase without a price of the metal', () => {
    const page = ofPage(`2026-05-04
receive A 20.00 g
  bought 900.00 USD
assay A by fire, corrected
  Au 58.0 %`);
    const document = account(page);
    expect(text(document, BOUGHT, 'A', 'left over')).toBeUndefined();
    expect(text(document, BOUGHT, 'A', 'so')).toBe('A here; what that would bring is not known');
    expect(told(document, OPEN)).toContain('A: no price is written for its metal; `quote Au` or `quote Ag` gives it.');
  });

  it('what rent and gas cost, and a bill that is no plain sum', () => {
    const page = ofPage(
      `2026-05-04
quote Au 2500.00 USD/ozt
receive A 20.00 g
assay A by fire at assay-north
  Au 58.0 %
  charge umpire 35.00 USD
ship V1 to harbour-refiner
  in A 20.00 g
  charge freight 0.30 USD/g of received
  charge insurance 40.00 EUR
settle V1
  pays Au 98 %, total 1000.00 USD`,
      'shop: { currency: USD, labour: 20.00 USD/h }\nparties:\n  assay-north: { role: lab }\n',
    );
    const document = account(page);
    expect(text(document, COST, 'umpire', 'in USD')).toBe('35.00 USD');
    expect(text(document, COST, 'freight', 'in USD')).toBeUndefined();
    expect(told(document, COST)).toContain('Rent, gas and current are not in it: `overhead` under `shop`');
    expect(told(document, COST)).toContain('Left out, for want of a sum in USD: ship V1.');
  });

  it('a settlement without a price', () => {
    const page = ofPage(`2026-05-04
receive A 20.00 g
ship V1 to harbour-refiner
  in A 20.00 g
settle V1
  Au 58.0 %`);
    expect(told(account(page), BUYERS)).toMatch(/^V1: settled without what it was paid by; `pays Au 98 %`/);
  });

  it('no purchase, no sale', () => {
    const document = account(ofPage('2026-05-04\nreceive A 20.00 g'));
    expect(told(document, BOUGHT)).toBe('No purchase with its price (`bought 3480.00 USD`) is written in this period.');
    expect(told(document, BUYERS)).toBe('Nothing was settled or sold in this period.');
  });
});

describe('who sold it', () => {
  const SELLERS = 'Who sold it';
  const page = (second: string) => `2026-05-04
quote Au 2500.00 USD/ozt
receive A 20.00 g from ring-and-thread
  bought 900.00 USD
  claim Au 60 %
receive B 10.00 g from ring-and-thread
  bought 400.00 USD
receive C 30.00 g from ${second}
  bought 1000.00 USD
  claim Au 50 %
assay A by fire, corrected, Au 58.0 %
assay C by fire, corrected, Au 50.5 %`;

  it('is put together, with the gold that was claimed against what was found', () => {
    const document = account(ofPage(page('fell-buyer')));
    expect(text(document, SELLERS, 'ring-and-thread', 'purchases')).toBe('2');
    expect(text(document, SELLERS, 'ring-and-thread', 'paid')).toBe('1300.00 USD');
    // 20.00 g at 60 % claimed and 58.0 % found: 12.0 and 11.6 g. B came without a claim, and counts in neither.
    expect(cell(document, SELLERS, 'ring-and-thread', 'gold claimed')!.figure!.value).toBe('12');
    expect(cell(document, SELLERS, 'ring-and-thread', 'more than claimed')!.figure!.value).toBe('-0.4');
    expect(cell(document, SELLERS, 'fell-buyer', 'more than claimed')!.figure!.value).toBe('0.15');
    expect(told(document, SELLERS)).toContain('ring-and-thread: 2 purchases are few: read nothing fine into them.');
  });

  it('is left out where one alone sold', () => {
    const document = account(ofPage(page('ring-and-thread')));
    expect(document.sections.map(({ title }) => title)).not.toContain(SELLERS);
  });
});

describe('several purchases in one bar', () => {
  const page = ofPage(`2026-05-04
quote Au 3110.34768 USD/ozt
receive A 30.00 g
  bought 1500.00 USD
assay A by fire, corrected
  Au 50.0 %
receive B 20.00 g
  bought 300.00 USD
assay B by fire, corrected
  Au 25.0 %
melt M1
  in A 30.00 g
  in B 20.00 g
  out BAR 50.00 g bar
sell BAR to fell-buyer for 1900.00 USD`);

  it('share what it brought by the gold that each put in', () => {
    // A 15 g and B 5 g of gold: three quarters of 1900.00 USD and one.
    expect(text(account(page), BOUGHT, 'A', 'brought so far')).toBe('1425.00 USD');
    expect(text(account(page), BOUGHT, 'B', 'brought so far')).toBe('475.00 USD');
    expect(text(account(page), BOUGHT, 'A', 'so')).toBe('sold: BAR (75.0 % of it)');
    expect(told(account(page), BOUGHT)).toContain('shared out by the gold and silver that each brought');
  });
});

it('silver added from the shelf is no part of what a purchase brought', () => {
  const page = ofPage(`2026-05-04
quote Au 3110.34768 USD/ozt
quote Ag 31.1034768 USD/ozt
receive A 10.00 g
  bought 300.00 USD
assay A by fire, corrected
  Au 50.0 %
  Ag 10.0 %
melt Q1
  in A 10.00 g
  add silver 9.00 g
  out Q 19.00 g shot
sell Q to fell-buyer for 102.00 USD`);
  // Gold 5 g at 100.00 USD/g is all of A, silver 10 g at 1.00 a tenth: 500 + 1 of 510, by worth 501 / 510 of 102.00 = 100.20 USD.
  expect(Number(cell(account(page), BOUGHT, 'A', 'brought so far')!.figure!.value)).toBeCloseTo(100.2, 1);
});

it('currencies are kept apart', () => {
  const page = ofPage(`2026-05-04
quote Au 2500.00 USD/ozt
receive A 20.00 g
  bought 700.00 USD
receive B 10.00 g
  bought 300.00 EUR
sell A to fell-buyer for 800.00 USD
sell B to fell-buyer for 420.00 EUR`);
  const document = account(page);
  expect(text(document, BOUGHT, 'A', 'paid')).toBe('700.00 USD');
  expect(text(document, BOUGHT, 'B', 'paid')).toBe('300.00 EUR');
  expect(text(document, BOUGHT, 'all in USD', 'paid')).toBeUndefined();
});

it('what was bought for the shelf is no purchase of metal', () => {
  const page = ofPage(`2026-05-04
receive BX 5 kg
  material borax-glass
  bought 40.00 USD`);
  expect(told(account(page), BOUGHT)).toContain('No purchase');
});

describe('a sum that does not come of its own lines', () => {
  const page = (total: string) =>
    ofPage(
      `2026-05-04
quote Au 3110.35 USD/ozt
quote Ag 31.10 USD/ozt
receive B 10.00 g from creek
assay B by fire
  Au 90.0 %, Ag 9.0 %
ship V1 to quay-refiner
  in B 10.00 g
2026-05-20
settle V1
  received 10.00 g
  Au 90.0 %, Ag 9.0 %
  pays Au 98 %, price Au 3110.35 USD/ozt
  total ${total}, paid 2026-05-20`,
      'parties:\n  quay-refiner:\n    role: refiner\n    terms: { 2026-01-01: { days: 14 } }\n',
    );

  it('is told apart from metal that they keep', () => {
    // 9 g at 100.00 and 0.9 g at 1.00 USD/g: 900.90 USD. Their line is 9 × 0.98 × 100.00 = 882.00 USD: 18.90 USD is metal, 82.00 USD a slip.
    const document = account(page('800.00 USD'));
    expect(text(document, COST, 'metal that buyers do not pay', 'in USD')).toBe('19 USD ±2');
    expect(text(document, COST, "wrong in buyers' sums", 'in USD')).toBe('82.00 USD');
    const [settlement] = settlementsIn(page('800.00 USD'));
    expect(settledSays(settlement!).join(' ')).toContain(
      '19 USD is metal that they do not find or do not pay in full; 82.00 USD is wrong in their sums.',
    );
  });

  it('is too high for them where they pay more than their lines', () => {
    const [settlement] = settlementsIn(page('890.00 USD'));
    expect(settledSays(settlement!).join(' ')).toContain('; their sums are 8.00 USD too high for their lines.');
  });

  it('and right sums are not spoken of', () => {
    const document = account(page('882.00 USD'));
    expect(text(document, COST, "wrong in buyers' sums", 'in USD')).toBeUndefined();
    expect(text(document, COST, 'metal that buyers do not pay', 'in USD')).toBe('19 USD ±2');
  });

  it('money that came late is told with the days that it took, and those past the agreed ones', () => {
    expect(text(account(page('882.00 USD')), BUYERS, 'V1', 'days')).toBe('16, 2 late');
  });
});

describe('metal of which nobody knows what it holds', () => {
  const workspace = ofPage(
    `2026-05-04
quote Au 2500.00 USD/ozt
receive A 20.00 g from beck, bought 800.00 USD
receive B 30.00 g from beck, bought 900.00 USD
melt M1
  in A
  in B
  out M1b 49.90 g button
receive C 10.00 g from rill, bought 500.00 USD
assay C by fire
  Au 90.0 %
split Y1
  in C
  out C1 5.00 g
  out C2 5.00 g
2026-05-05
ship V1 to refinery
  in M1b
`,
    `shop: { currency: USD }
parties:
  refinery: { role: refiner, terms: { 2026-01-01: { pays: { Au: 98 %, Ag: 0 % }, price day: settled } } }`,
  );
  const document = account(workspace);

  it('is told where it is, and makes what a purchase is worth unknown, not lost', () => {
    expect(text(document, BOUGHT, 'A', 'so')).toBe(
      'V1, of which it is not known what it holds; what that would bring is not known',
    );
    expect(text(document, BOUGHT, 'A', 'left over')).toBe('');
    expect(text(document, BOUGHT, 'C', 'so')).toBe('C1 here, C2 here');
  });

  it('leaves open which part of the price stands for what is known beside it', () => {
    const page = `2026-05-04
quote Au 2500.00 USD/ozt
receive A 30.00 g from beck, bought 1800.00 USD
split Y1
  in A
  out A1 10.00 g
  out A2 20.00 g
receive B 5.00 g
cast C1
  in A2
  in B
  out A3 24.90 g
assay A1 by fire
  Au 75.0 %
`;
    const beside = account(ofPage(page, 'shop: { currency: USD }\nparties: { refinery: refiner }'));
    expect(text(beside, OPEN, 'A1', 'was paid for it') ?? '').toBe('');
    expect(told(beside, OPEN)).not.toContain('hurts');
  });

  it('has no agreed price, and wants no quote', () => {
    expect(text(document, OPEN, 'V1', '5 % lower, less by')).toBe('');
    expect(told(document, OPEN)).toContain('V1: what it holds is not known: an assay tells.');
  });
});

describe('silver that is lent into a heat', () => {
  const lent = (word: string): Document =>
    account(
      ofPage(
        `2026-05-04
quote Au 2500.00 USD/ozt
receive H 50.00 g from rill, owner rill, material gold
melt Q1
  in H
  add silver 100.00 g${word}
  add borax-glass 5 g
  out Q1g 149.90 g shot
`,
        `shop: { currency: USD, labour: 30.00 USD/h }
materials:
  silver: { from: silver, price: 1.00 USD/g }
  borax-glass: { from: borax-glass, price: 2.00 USD/kg }
parties: { rill: customer }`,
      ),
    );

  it('is no material that work costs, for it comes back; silver that stays is', () => {
    // 5 g of borax glass at 2.00 USD/kg; and 100 g of silver at 1.00 USD.
    expect(text(lent(', lent'), TOLL, 'H', 'materials')).toBe('0.01 USD');
    expect(text(lent(', lent'), COST, 'silver', 'in USD')).toBeUndefined();
    expect(text(lent(''), TOLL, 'H', 'materials')).toBe('100.01 USD');
  });
});
