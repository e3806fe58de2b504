/** What is on hand, and the trace of a lot: the commands as their users run them. */
import { afterAll, describe, expect, test } from 'vitest';
import { fineweight, folderOf, removeFolders } from './run';

afterAll(removeFolders);

const WORKSHOP = `shop:
  name: Tarn End
scales:
  bench: 0.01 g
parties:
  high-fell: customer
`;

const MAY = `2026-05-04
receive B1 from own-dredge
  50.00 g on bench
cupel K1, on bench
  in B1 50.00 g
  add lead 50 g
  out C1 45.00 g bead, at strongbox
assay C1 by fire, corrected
  Au 90.00 ±0.05 % expanded, Ag 9.0 %
2026-05-06
receive H1 from high-fell
  12.00 g on bench
  stamp Au 18 k
sample C1
  out C1q 1.00 g drillings on bench, to harbour-lab
`;

describe('stock', () => {
  test('each lot by owner, with weight, fine metal, ground, place; the shop first', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY });
    const { out, exit } = fineweight(['stock'], { cwd });
    expect(exit).toBe(0);
    // 44.00 × 0.9, ± 44 × 0.0005; the drillings ± 0.9 × 0.0082 of a weighing to 0.01 g; 12.00 × (0.75 − 0.02)
    expect(out).toBe(`Tarn End, on hand at the end of the record

the shop
lot  what        weight            gold          silver  known    where             since
C1   bead       44.00 g   39.60 g ±0.02    3.96 g ±0.18  assayed  strongbox         2026-05-04
C1q  drillings   1.00 g  0.900 g ±0.007  0.090 g ±0.004  assayed  with harbour-lab  2026-05-06
  fine gold 40.50 g ±0.02
  fine silver 4.05 g ±0.18

high-fell
lot  what   weight         gold  silver  known    where  since
H1         12.00 g  ~8.8 g ±0.2       –  guessed         2026-05-06
  fine gold none that is sure, and ~8.8 g ±0.2 by guess
  fine silver none that is sure, not known of 1 lot
`);
  });

  test('of one owner: what stands in a pool with others too, each with their part; of nobody else', () => {
    const page =
      '2026-05-04\nreceive A 30.00 g, owner anna\nreceive B 10.00 g, owner ben\ncast T1, pooled by weight\n  in A 30.00 g\n  in B 10.00 g\n  out C 39.98 g bar\n';
    const cwd = folderOf({ 'may.melt': page });
    expect(fineweight(['stock', '--owner', 'anna'], { cwd }).out).toMatch(/anna \+ ben\n.*\nC .*\n {2}of it anna: 75/);
    expect(fineweight(['stock', '--owner', 'ana'], { cwd })).toMatchObject({
      exit: 2,
      err: 'fineweight: Nobody is called ana, in the journal or in workshop.yaml. Did you mean anna?\n',
    });
  });

  test('what is known within bounds alone is summed up as such', () => {
    // A bead that is gold and silver, of which nothing tells them apart; and what nobody said anything of.
    const page = '2026-05-04\nreceive A 10.00 g\nreceive Z 3.00 g\ncupel K1\n  in A 10.00 g\n  out B 6.00 g bead\n';
    const cwd = folderOf({ 'may.melt': page });
    expect(fineweight(['stock'], { cwd }).out).toContain(
      'fine gold none that is sure, and up to 6.0 g in 1 lot, not known of 1 lot',
    );
    const { journals } = JSON.parse(fineweight(['stock', '--format', 'json'], { cwd }).out);
    const { totals } = journals[0].owners[0];
    expect(totals[0]).toMatchObject({ metal: 'Au', within: { lots: 1, low: 0, high: 6 }, unknown: 2 });
  });

  test('at the end of a day, of one owner', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY });
    const { out } = fineweight(['stock', '--at', '2026-05-04'], { cwd });
    expect(out).toContain('Tarn End, on hand at the end of 2026-05-04');
    expect(out).toMatch(/^C1 +bead +45\.00 g/m);
    expect(out).not.toContain('high-fell');
    expect(fineweight(['stock', '--owner', 'high-fell'], { cwd }).out).not.toContain('C1');
  });

  test('for another program', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY });
    const { journals } = JSON.parse(fineweight(['stock', '--format', 'json'], { cwd }).out);
    const [shop] = journals[0].owners;
    expect(shop.lots[0]).toMatchObject({ lot: 'C1', unit: 'g', at: 'strongbox', file: 'may.melt', line: 7 });
    expect(shop.lots[0].fine[0]).toMatchObject({ metal: 'Au', ground: 'assayed' });
    expect(shop.lots[0].fine[0].grams.value).toBeCloseTo(39.6, 9);
    const lines = fineweight(['stock', '--format', 'csv'], { cwd }).out.split('\r\n');
    expect(lines[0]).toBe(
      'owner,lot,kind,amount,unit,metal,fine g,± g (k = 2),ground,at,with,since,file,line,shares,corrected',
    );
    expect(lines.find((line) => line.includes(',C1,bead,44,g,Au,'))).toBeDefined();
  });

  test('a name that a spreadsheet would take for a formula stays text', () => {
    const cwd = folderOf({ 'may.melt': '2026-05-04\nreceive "=1+1" 5.00 g\n' });
    expect(fineweight(['stock', '--format', 'csv'], { cwd }).out).toContain(",'=1+1,");
  });

  test('what is sold, shipped or used up is not on hand', () => {
    const cwd = folderOf({
      'may.melt': `2026-05-04
receive A 5.00 g
receive B 5.00 g
receive C 5.00 g
sell A to moor-refiner for 300.00 USD
ship V1 to moor-refiner
  in B
discard C
`,
    });
    expect(fineweight(['stock'], { cwd }).out).toBe(
      'The shop, on hand at the end of the record\n\nNothing is on hand.\n',
    );
  });

  test('a date that is none is said', () => {
    expect(fineweight(['stock', '--at', 'may']).err).toContain('--at wants a date, year first; "may" is none.');
  });

  test('a period that runs backwards is none: all that lay between would be missing', () => {
    const { err, exit, out } = fineweight(['account', '--from', '2026-06-01', '--to', '2026-05-01']);
    expect([exit, out]).toEqual([2, '']);
    expect(err).toContain('--from 2026-06-01 is after --to 2026-05-01.');
  });
});

describe('trace', () => {
  test('back to what came in, forward to where it went', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY });
    const { out, exit } = fineweight(['trace', 'C1'], { cwd });
    expect(exit).toBe(0);
    expect(out).toBe(`C1 bead 45.00 g, Au 40.50 g ±0.02 assayed, Ag 4.05 g ±0.18 assayed (may.melt:7)

came of
  cupel K1 2026-05-04: B1 50.00 g, Au 40.62 g ±0.10 inferred, Ag 4.13 g ±0.19 inferred (may.melt:5)

went to
  sample C1 2026-05-06: C1q drillings 1.00 g, Au 0.900 g ±0.007 assayed, Ag 0.090 g ±0.004 assayed (may.melt:15)
`);
  });

  test('a lot that is nowhere, with the nearest name', () => {
    const cwd = folderOf({ 'may.melt': MAY });
    expect(fineweight(['trace', 'C2'], { cwd })).toMatchObject({
      exit: 2,
      err: expect.stringContaining('No lot C2 comes in or is made in this journal.'),
    });
    expect(fineweight(['trace'], { cwd }).err).toContain('`fineweight trace` wants a lot');
  });
});

describe('account', () => {
  const PAGES = {
    'workshop.yaml': WORKSHOP,
    'may.melt': `2026-05-04
receive A from own-dredge
  100.00 g on bench
assay A by fire, corrected
  Au 90.00 ±0.05 % expanded, Ag 8.0 %
cast T1
  in A 100.00 g on bench
  out B 99.80 g bar on bench
  out 0.10 g slag on bench, discard
2026-06-02
ship V1 to moor-refiner
  in B 99.80 g on bench
`,
  };

  test('came in, less what left and what is on hand: what is left over, and where', () => {
    const { out, exit } = fineweight(['account', '--metal', 'Au'], { cwd: folderOf(PAGES) });
    expect(exit).toBe(0);
    // 90.00 in; 0.20 g is in no bar, and ±0.012 g of three weighings: up to 0.21 g of it may be gold, half of that is guessed to be lost; the slag that was
    // thrown away holds 0.10 g at most, half of that by guess. 90.00 − 89.89 − 0.05 = 0.06.
    expect(out).toBe(`Tarn End, metal account from the first day to the last

Au
  on hand before             0 g
+ came in          90.00 g ±0.05  1 entry
- shipped          89.89 g ±0.13  1 entry
- thrown away      ~0.05 g ±0.06  1 entry, all guessed
- on hand after              0 g
= unaccounted for  ~0.06 g ±0.14  weighing and assays explain it
    of it in cast  ~0.06 g ±0.14  1 step
`);
  });

  test('of a period: what was on hand before it', () => {
    const { out } = fineweight(['account', '--from', '2026-06-01', '--format', 'json'], { cwd: folderOf(PAGES) });
    const [[gold]] = JSON.parse(out).journals;
    expect(gold.opening.grams).toBeCloseTo(90 - 0.2115 / 2, 3);
    expect(gold.unaccounted.grams).toBeCloseTo(0, 9);
    // the same bar on both sides: the error of its assay falls out, two weighings of u = 0.01/√6 remain
    expect(gold.unaccounted.plusMinus).toBeCloseTo((2 * Math.SQRT2 * 0.90045 * 0.01) / Math.sqrt(6), 4);
    expect(gold.movements).toHaveLength(1);
  });

  test('what is no metal and no date is said', () => {
    expect(fineweight(['account', '--metal', 'gold']).err).toContain('--metal wants a symbol, as Au; "gold" is none.');
    expect(fineweight(['account', '--from', 'may']).err).toContain('--from wants a date, year first; "may" is none.');
  });
});

describe('used cupels', () => {
  const PAGE = `2026-05-04
receive A 50.00 g on bench
assay A by fire
  Au 80.00 ±0.02 %, Ag 10.00 ±0.02 %
cupel K1, on bench
  cupel-body cement-3, before 128.12 g, after 182.10 g
  in A 50.00 g
  add lead 50.00 g
  out B 44.75 g bead
`;
  const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': PAGE });

  test('stand in the stock with the guess of what they hold, counted as one', () => {
    const { out } = fineweight(['stock'], { cwd });
    expect(out).toMatch(
      /^cement-3 +used cupel of K1 +182\.10 g +~0\.12 g ±0\.09 +~0\.10 g ±0\.06 +guessed +2026-05-04$/m,
    );
    expect(out).toContain(', and ~0.12 g ±0.09 by guess');
    const [shop] = JSON.parse(fineweight(['stock', '--format', 'json'], { cwd }).out).journals[0].owners;
    expect(shop.lots.map(({ lot }: { lot: string }) => lot)).toEqual(['B']);
    expect(shop.usedCupels).toEqual([
      expect.objectContaining({ cupel: 'cement-3', step: 'K1', file: 'may.melt', line: 6 }),
    ]);
    expect(fineweight(['stock', '--format', 'csv'], { cwd }).out).toContain(
      ',cement-3,used cupel of K1,182.1,g,Au,0.12',
    );
  });

  test('stand in the metal account, which they close as a guess', () => {
    const { out } = fineweight(['account', '--metal', 'Au'], { cwd });
    expect(out).toMatch(/^- in used cupels after +~0\.12 g ±0\.09 {2}a guess$/m);
    const [[gold]] = JSON.parse(fineweight(['account', '--metal', 'Au', '--format', 'json'], { cwd }).out).journals;
    expect(gold.usedCupelsClosing.grams).toBeCloseTo(0.12, 6);
    expect(gold.usedCupelsOpening.grams).toBe(0);
    const left = gold.opening.grams + 40 - gold.closing.grams - gold.usedCupelsClosing.grams;
    expect(gold.unaccounted.grams).toBeCloseTo(left, 9);
  });
});

describe('a pooled lot', () => {
  test('is told apart by owner below its row, and for another program', () => {
    const cwd = folderOf({
      'may.melt': `2026-05-04
receive A 30.00 g, owner high-fell
receive B 20.00 g, owner beck-side
cast T1, pooled by weight
  in A
  in B
  out C 50.00 g bar
assay C by fire
  Au 90.00 %
`,
    });
    const { out } = fineweight(['stock'], { cwd });
    expect(out).toMatch(
      /^C .*\n {2}of it high-fell: 60\.00 %, Au 27\.0\d* g\n {2}of it beck-side: 40\.00 %, Au 18\.0\d* g$/m,
    );
    const [pool] = JSON.parse(fineweight(['stock', '--format', 'json'], { cwd }).out).journals[0].owners;
    expect(pool.lots[0].shares[1]).toMatchObject({
      owner: 'beck-side',
      percent: 40,
      fine: [{ metal: 'Au', guessed: false }],
    });
    expect(fineweight(['stock', '--format', 'csv'], { cwd }).out).toContain('"high-fell 60.00 %, Au 27.');
  });
});

describe('a sample that comes back', () => {
  const PAGES = {
    'may.melt': `2026-05-04
receive A 100.00 g
sample A
  out Q1 1.00 g drillings, to north-lab
assay Q1 by fire at north-lab
  Au 91.34 ±0.02 %
2026-05-10
more sample A
  back Q1 0.40 g
`,
  };

  test('is with nobody any more, and less by what was used up', () => {
    const [row] = JSON.parse(
      fineweight(['stock', '--format', 'json'], { cwd: folderOf(PAGES) }).out,
    ).journals[0].owners[0].lots.filter(({ lot }: { lot: string }) => lot === 'Q1');
    expect(row).toMatchObject({ amount: { value: 0.4 }, with: null });
    // 0.6 g at 91.34 %.
    expect(fineweight(['account', '--metal', 'Au'], { cwd: folderOf(PAGES) }).out).toContain(
      '- used up in assays  0.548 g ±0.007  1 entry',
    );
  });

  test('is not held against what went out', () => {
    const { out } = fineweight(['reconcile', '--format', 'json'], { cwd: folderOf(PAGES) });
    const [[history]] = JSON.parse(out).journals.map(({ histories }: { histories: object[] }) => histories);
    expect(history.suspects).toEqual([]);
    expect(history.notWeighed).toContainEqual(expect.objectContaining({ of: 'Q1', grams: expect.closeTo(0.6, 9) }));
  });
});

describe('metal too little to speak of', () => {
  test('is said so, and left out of a trace', () => {
    // Gold of a silver button by a limit: 0 to 0.01 % of 6.95 g.
    const cwd = folderOf({ 'may.melt': '2026-05-04\nreceive S 6.95 g\nassay S by fire\n  Ag 99.0 %, Au <0.01 %\n' });
    expect(fineweight(['stock'], { cwd }).out).toContain('none to speak of');
    expect(fineweight(['trace', 'S'], { cwd }).out).toBe('S 6.95 g, Ag 6.88 g ±0.03 assayed (may.melt:2)\n');
  });
});

test('what a lot holds that was weighed roughly is a guess for other programs too', () => {
  const cwd = folderOf({ 'page.melt': '2026-06-01\nreceive C ~40 g\nassay C by fire\n  Au 60 %\n' });
  const stock = (format: string): string => fineweight(['stock', '--format', format], { cwd }).out;
  expect(stock('csv')).toMatch(/,C,,40,g,Au,24,4\.8\d*,guessed,/);
  expect(stock('json')).toMatch(/"ground": "guessed"/);
  expect(stock('text')).toMatch(/C +~40 g +~24 g ±5 +– +guessed/);
});
