/** What is waited for at the end of a day. */
import { expect, it } from 'vitest';
import { formed, ofPage } from '../support/documents';

const WORKSHOP = `parties:
  nordbank:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 99 % }
        days: 30 days
  ash-grove: customer
  vale-supply: supplier
`;

const PAGE = `2026-08-20
receive A 100.00 g
receive S 50.00 g, owner vale-supply
receive C 20.00 g from ash-grove, owner ash-grove
assay A by fire
  Au 90.0 %
ship V2 to nordbank
  in A 100.00 g
  because on consignment
ship R1 to vale-supply
  in S 50.00 g
ship R2 to ash-grove
  in C 20.00 g
drop D1
  add copper, before 520.4 g, after 441.0 g
2026-09-30
receive Z 1.00 g
`;

const page = (day: string): string => formed('md', 'day-page', { day }, ofPage(PAGE, WORKSHOP));

// 30 days from 2026-08-20: 11 to the end of August, 19 in September. To 2026-09-30 are 41.
it('a settlement, until the day that was agreed; nothing of what went back to whose it is', () => {
  expect(page('2026-09-30')).toContain(
    '| ship V2 | the settlement of nordbank | 2026-08-20 | 41 | 2026-09-19: overdue |',
  );
  expect(page('2026-08-20')).toContain('| ship V2 | the settlement of nordbank | 2026-08-20 | 0 | 2026-09-19 |');
  expect(page('2026-09-30')).not.toMatch(/\| ship R[12] \|/);
});

it('what was weighed before and after its use', () => {
  expect(page('2026-08-20')).toContain('| copper 520.4 g to 441.0 g |');
});

it('what a count found and missed, and what came back, each by its word', () => {
  const counted = formed(
    'md',
    'day-page',
    { day: '2026-09-02' },
    ofPage(`2026-09-01
receive A 100.00 g
receive B 50.00 g
receive C 20.00 g
ship V1 to nordbank
  in C 20.00 g
2026-09-02
count safe
  found A 100.00 g
  missing B
ship V1 to nordbank
  back C 20.00 g
`),
  );
  expect(counted).toContain('| count safe | found A 100.00 g, missing B |');
  expect(counted).toContain('back C 20.00 g');
});

it("a customer's samples among their lots, out of a pool too, and where they are", () => {
  const pooled = formed(
    'md',
    'day-page',
    { day: '2026-09-01' },
    ofPage(
      `2026-09-01
receive A 100.00 g from ash-grove, owner ash-grove
receive B 50.00 g
melt M1, pooled by weight
  in A 100.00 g
  in B 50.00 g
  out M1b 149.80 g bar
sample M1b
  out M1q 1.00 g drillings, to north-lab
  out M1r 1.00 g drillings, keep
`,
      'parties: { ash-grove: customer, north-lab: lab }',
    ),
  );
  const [, lots = ''] = pooled.split("## Customers' lots here");
  for (const lot of ['M1b', 'M1q', 'M1r']) expect(lots).toContain(`| ${lot} | ash-grove`);
  expect(lots).toMatch(/\| M1q .*with north-lab/);
  // 100 g of 150: their part of the lot, as the gold beside it is of all of it.
  expect(lots).toContain('| M1b | ash-grove 66.67 % |');
});

it('to whom a shipment went, what a settlement comes to, and when it was paid', () => {
  const page = `2026-09-01
receive A 100.00 g
ship V1 to nordbank
  in A 100.00 g
2026-09-20
settle V1 with nordbank
  received 100.00 g, Au 90.0 %
  total 7000.00 USD, paid 2026-09-22
`;
  expect(formed('md', 'day-page', { day: '2026-09-01' }, ofPage(page, WORKSHOP))).toContain(
    '| ship V1 to nordbank | A 100.00 g |',
  );
  expect(formed('md', 'day-page', { day: '2026-09-20' }, ofPage(page, WORKSHOP))).toContain(
    '| settle V1 | Au 90.0 %; total 7000.00 USD, paid 2026-09-22; with nordbank |',
  );
});
