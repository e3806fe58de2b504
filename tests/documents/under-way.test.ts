/** What is out and not settled: a page, and what must stand of its shipments. */
import { expect, it } from 'vitest';
import { formed, ofPage } from '../support/documents';

const WORKSHOP = `parties:
  harbour-refiner: refiner
  moor-refiner: refiner
  high-fell: customer
`;

const PAGE = `2026-05-04
quote Au 2400.00 USD/ozt at harbour-market
receive A 31.10 g bar
receive B 20.00 g bar
receive C 10.00 g bar
receive D 5.00 g bar from high-fell
assay A by fire
  Au 91.00 %
assay B by fire
  Au 50.00 %
assay C by fire
  Au 80.00 %
2026-05-05
ship V1 to harbour-refiner
  in A 31.10 g
  sealed "0041", insured 2000.00 USD
2026-05-06
ship V2 to moor-refiner
  in B 20.00 g
ship V3 to harbour-refiner
  in C 10.00 g
  insured 5000.00 USD
ship V4 to high-fell
  in D 5.00 g
2026-05-12
settle V3
  received 10.00 g
  total 500.00 USD
`;

const underWay = (choice = {}): readonly string[] =>
  formed('md', 'under-way', choice, ofPage(PAGE, WORKSHOP)).split('\n');

const line = (of: readonly string[], begins: string): string | undefined =>
  of.find((one) => one.startsWith(`| ${begins} |`));

it('each with its days, its metal, its worth, and what the insurance leaves open', () => {
  const list = underWay({ to: '2026-05-08' });
  // 31.10 g × 0.91 / 31.1034768 × 2400 = 2183.8; less 2000.
  expect(line(list, 'V1')).toMatch(
    /^\| V1 \| harbour-refiner \| 2026-05-05 \| 3 \| A \| 28\.3\d* g.* \| 218\d USD.* \| 2000\.00 USD \| ~?18\d USD/,
  );
  // 20.00 g × 0.5 / 31.1034768 × 2400 = 771.6, not insured at all.
  expect(line(list, 'V2')).toMatch(
    /^\| V2 \| moor-refiner \| 2026-05-06 \| 2 \| B \| 10\.0\d* g.* \| 77\d USD.* \| {2}\| 77\d USD/,
  );
  expect(line(list, 'V3')).toContain('| 5000.00 USD |  |');
});

it('all together, where there is more than one', () => {
  const list = underWay({ to: '2026-05-08' });
  expect(line(list, '**together**') ?? line(list, 'together')).toContain('7000.00 USD');
  expect(underWay({ to: '2026-05-05' }).join('\n')).not.toContain('together');
});

it('what is settled is no longer out; what goes back to a customer is not asked for', () => {
  const list = underWay();
  expect(line(list, 'V3')).toBeUndefined();
  expect(line(list, 'V4')).toBeUndefined();
  expect(line(list, 'V1')).toBeDefined();
});

it('of one buyer alone; of nothing it says so', () => {
  expect(line(underWay({ party: 'moor-refiner' }), 'V1')).toBeUndefined();
  expect(underWay({ to: '2026-05-04' })).toContain('- Nothing that was shipped waits for its settlement.');
});

// Terms of 10 days: from 2026-05-05 to 2026-05-18 are 13 days, 3 more than agreed.
it('says by how many days one is late, and why it is out', () => {
  const workshop = WORKSHOP.replace(
    'harbour-refiner: refiner',
    'harbour-refiner:\n    role: refiner\n    terms:\n      2026-01-01:\n        pays: { Au: 98 % }\n        days: 10 days',
  );
  const page = PAGE.replace('insured 2000.00 USD', 'insured 2000.00 USD\n  because on consignment');
  const list = formed('md', 'under-way', { to: '2026-05-18' }, ofPage(page, workshop));
  expect(list).toContain('| V1 | harbour-refiner | 2026-05-05 | 13, 3 late |');
  expect(list).toContain('- because on consignment');
  expect(list).toContain('| V2 | moor-refiner | 2026-05-06 | 12 |');
});

it('lists nothing that went back to whose it is', () => {
  const page = PAGE.replace(
    '2026-05-06\n',
    '2026-05-06\nreceive S 30.00 g from vale-supply, owner vale-supply\nship V5 to vale-supply\n  in S 30.00 g\n',
  );
  const workshop = `${WORKSHOP}  vale-supply: supplier\n`;
  expect(formed('md', 'under-way', { to: '2026-05-08' }, ofPage(page, workshop))).not.toContain('V5');
});

it('says of a lot that is out that it is not sold, where a reader would look for it', () => {
  const workspace = ofPage(PAGE, WORKSHOP);
  const form = (kind: string, choice = {}): string => formed('md', kind, choice, workspace);
  expect(form('under-way')).toContain('By leaving it is not sold, be it on consignment, on approval or for its assay');
  expect(form('lot-history', { lot: 'A' })).toContain(
    '- now: shipped in ship V1 to harbour-refiner: not settled, so not sold',
  );
  // C was settled, and D went back to whose it is.
  expect(form('lot-history', { lot: 'C' })).toContain('- now: shipped in ship V3 to harbour-refiner\n');
  expect(form('lot-history', { lot: 'D' })).toContain('- now: shipped in ship V4 to high-fell\n');
  for (const kind of ['stock-take', 'metal-account']) {
    const [, out = ''] = form(kind).split('## Out, and not settled, sold or back');
    expect(out).toMatch(/\| A \| harbour-refiner \| V1 \| 2026-05-05 \| the shop \| 31\.10 g[^|]*\| 28\.3/);
    expect(out).toContain('| B | moor-refiner | V2 |');
    expect(out).not.toMatch(/\| [CD] \| harbour-refiner/);
  }
  expect(form('stock-take', { to: '2026-05-04' })).not.toContain('not settled');
  expect(form('stock-take', { owner: 'high-fell' })).not.toContain('not settled');
});

it('of many that are out the metal account names those that left last, and the stock-take all', () => {
  const days = Array.from({ length: 14 }, (_, at) => {
    const lot = `N${at + 1}`;
    return `2026-05-${String(at + 1).padStart(2, '0')}\nreceive ${lot} 10.00 g\nship S${at + 1} to moor-refiner\n  in ${lot} 10.00 g\n`;
  });
  const workspace = ofPage(days.join(''), WORKSHOP);
  const outIn = (kind: string): string =>
    formed('md', kind, {}, workspace).split('## Out, and not settled, sold or back')[1]!.split('\n## ')[0]!;
  const account = outIn('metal-account');
  expect(account.match(/\| N\d+ \|/g)).toEqual(Array.from({ length: 12 }, (_, at) => `| N${at + 3} |`));
  expect(account).toContain('2 more left earlier, the longest out on 2026-05-01: the document under-way lists all.');
  expect(outIn('stock-take').match(/\| N\d+ \|/g)).toHaveLength(14);
});

it('a lot that came back is not under way from that day on', () => {
  const page = `2026-05-04
receive A 100.00 g
receive B 50.00 g
ship V1 to moor-refiner
  in A 100.00 g
  in B 50.00 g
2026-05-08
more ship V1
  back A 100.00 g
2026-05-09
melt M1
  in A 100.00 g
  out C 99.90 g bar
`;
  const workspace = ofPage(page, WORKSHOP);
  const list = (to: string): string => formed('md', 'under-way', { to }, workspace);
  expect(list('2026-05-07')).toContain('| A and B |');
  expect(list('2026-05-08')).toContain('| B |');
  expect(list('2026-05-08')).not.toContain('A and B');
  const taken = formed('md', 'stock-take', {}, workspace);
  expect(taken).toContain('| B | moor-refiner | V1 |');
  expect(taken).not.toContain('| A |');
});
