/** The bench's word on inquarting, parting, dissolving and bringing silver back; worked examples followed from a page. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { findingsOf } from '../../server/rules/findings';
import { madeWhole, wayOf, writtenIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';
const lot = (grams: string, assay = ''): string =>
  `2026-06-01\n\nreceive A ${grams} g\n${assay === '' ? '' : `assay A by fire\n  ${assay}\n`}\n`;
const labels = (page: string): string[] => hintsOf(pageWorkspace(page), FILE).map(({ label }) => label);

describe('inquarting', () => {
  const asked = (grams: string, assay: string): string => `${lot(grams, assay)}plan melt Q1\n  in A\n  add silver ?\n`;

  // Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904: 10 mg of bead with 8 mg of gold want 18 mg of silver; half a gram of
  // 92 gold, 1 silver, 7 copper wants 1.145 g.
  it('wants two and a half times the gold, less the silver in it', () => {
    expect(writtenIn(asked('0.01000', 'Au 80.00 %, Ag 20.00 %'))[0]).toBe('~18.0 mg');
    expect(writtenIn(asked('0.5000', 'Au 92.00 %, Ag 1.00 %'))[0]).toBe('~1.15 g');
    expect(wayOf(asked('0.5000', 'Au 92.00 %, Ag 1.00 %'), 'inquart')).toContain(
      '2.5 × gold − silver = 2.5 × 0.460 − 0.00500 = 1.1 g',
    );
  });

  it('asks for the assay that it hangs on', () => {
    expect(writtenIn(asked('20.00', 'Ag 10.0 %'))).toEqual([]);
    expect(labels(asked('20.00', 'Ag 10.0 %'))).toContainEqual(
      expect.stringContaining('gold not known: assay it first'),
    );
    expect(wayOf(asked('20.00', 'Au 60.0 %'), 'inquart')).toContain('Assay the charge for silver');
  });

  it('is known by a line that asks for silver, or by a planned parting of what comes out', () => {
    const page = (add: string, out: string, then: string): string =>
      `${lot('20.00', 'Au 60.0 %, Ag 20.0 %')}plan melt Q1\n  in A\n${add}${out}\n${then}`;
    const parted = 'plan part P1\n  in Q\n';
    expect(writtenIn(page('', '  out Q shot\n', parted))).toContain('add silver ~26 g');
    expect(writtenIn(page('', '  out Q shot\n', ''))).not.toContainEqual(expect.stringContaining('silver'));
    expect(writtenIn(page('', '  out Z shot\n', parted))).not.toContainEqual(expect.stringContaining('silver'));
    expect(writtenIn(page('  add silver 10 g\n', '  out Q shot\n', parted))).not.toContainEqual(
      expect.stringContaining('silver'),
    );
    expect(writtenIn(page('  add silver ?\n', '  out Q shot\n  expect Au 30 %\n', ''))).not.toContain('~26 g');
  });

  it('wants none where the silver is enough', () => {
    expect(writtenIn(asked('20.00', 'Au 20.0 %, Ag 70.0 %'))[0]).toBe('0 g');
    expect(labels(asked('20.00', 'Au 20.0 %, Ag 70.0 %'))).toContain('no silver');
  });
});

describe('parting', () => {
  const planned = (assay: string, lines = ''): string => `${lot('100.0', assay)}plan part P1\n  in A\n${lines}`;

  it('is written whole: acid, as much water, gold and solution', () => {
    const [acid, water, gold, solution] = writtenIn(planned('Au 26.0 %, Ag 74.0 %'));
    expect(acid).toMatch(/^add nitric-acid ~\d+ mL$/);
    expect(water).toBe(acid?.replace('nitric-acid', 'water'));
    expect(gold).toBe('out ~26 g sponge annealed');
    expect(solution).toMatch(/^out ~\d+ mL solution$/);
  });

  // 0.7789 g of pure acid for a gram of silver by the dilute equation (IUPAC atomic weights); 68 % is 1.414 g/mL (Beringer & Beringer
  // 1904), so 100 g of silver want 81 mL at the least, and give off 7.4 L of NO at 20 °C. Rose's and others' practice is above that.
  it('tells acid for the silver that was added, as at least, where the lot was never assayed', () => {
    const page =
      '2026-06-01\nreceive A 20.0 g\nmelt M1\n  in A\n  add silver 50.0 g\n  out B 69.9 g button\nplan part P1\n  in B\n';
    expect(writtenIn(page)).toEqual(['add nitric-acid ~52 mL', 'add water ~52 mL']);
    const way = wayOf(page, 'acid');
    expect(way).toContain('52 mL of nitric-acid at least');
    // 50 g × 0.779 g of HNO3, 0.96 g of it a mL, × 1.28.
    expect(way).toContain('silver added      50 g × 0.779 HNO3 dilute');
    expect(writtenIn(page.replace('in B\n', 'in 34.95 g of B\n'))[0]).toBe('add nitric-acid ~26 mL');
    expect(writtenIn(page.replace('  add silver 50.0 g\n', '').replace('69.9', '19.9'))).toEqual([]);
  });

  it('counts base metal that nobody named from lead to iron, and says so', () => {
    const page = `${lot('100.0', 'Au 25.00 %, Ag 65.00 %')}plan part P1\n  in A\n`;
    const way = wayOf(page, 'acid');
    // 10 g as copper; as lead it takes 0.31 of the acid, as iron 1.71 times as much.
    expect(way).toMatch(/Cu +10 g \(2\.9\.\.18\)/);
    expect(way).toContain('nobody said: as copper at best, as lead at the least, as iron at the most');
    const named = wayOf(page.replace('Ag 65.00 %', 'Ag 65.00 %, Cu 10.00 %'), 'acid');
    expect(named).not.toContain('nobody said');
    expect(named).toContain('base metal that is named counts as copper');
  });

  it('tells platinum metals that may stay with the gold in its weight', () => {
    const page = `${lot('40.00', 'Au 28.0 %, Ag 70.0 %, Pt 2.0 %')}plan part P1\n  in A\n  add nitric-acid 80 mL\n  add water 80 mL\n`;
    const way = wayOf(page, 'parted');
    expect(way).toMatch(/of gold and platinum metals stays/);
    expect(way).toMatch(/with none to all of 0\.80 g/);
  });

  it('of a hundred grams of silver by the equation', () => {
    const page = `${lot('100.0', 'Ag 100.00 %')}plan dissolve V1\n  in A\n  add nitric-acid ?\n`;
    const way = wayOf(page, 'acid');
    expect(way).toMatch(/acid +100 mL \(81\.\.180\)/);
    expect(way).toMatch(/NO given off +HNO3 dilute \/ 63\.01 \/ 4 × 24\.1 L = 7\.4 L/);
  });

  // 1.168 g of pure acid for a gram of silver by the strong equation, 1.22 mL of 68 %; 0.927 mol of NO2, 22.3 L at 20 °C, for 100 g, and 4460 m³ of
  // air to 5 ppm (IUPAC atomic weights; a refiners' worksheet has 1.2 mL a gram).
  it('of acid that is measured without water by the strong equation', () => {
    const page = `${lot('100.0', 'Ag 100.00 %')}plan dissolve V1\n  in A\n  add nitric-acid 160 mL\n`;
    const way = wayOf(page, 'acid');
    expect(way).toMatch(/acid +150 mL \(81\.\.180\): .* 1\.28 × strong at best/);
    expect(way).toMatch(/NO2 given off +HNO3 strong .*= 22 L/);
    expect(way).toMatch(/air to thin it +4500 m³/);
    expect(way).toMatch(/with as much water 100 mL \(81\.\.180\) do, and give 7\.4 L of NO/);
    expect(way).not.toContain('to 40 %');
  });

  it('is as strong as the water that is written leaves it', () => {
    const way = (water: string): string =>
      wayOf(`${lot('100.0', 'Ag 100.00 %')}plan dissolve V1\n  in A\n  add nitric-acid 200 mL\n${water}`, 'acid');
    // 200 mL × 1.414 × 0.68 = 192 g of HNO3 in 283 g and 50 g, in 283 g and 200 g.
    expect(way('  add water 50 mL\n')).toMatch(/to 58 %\nNO2 given off .*= 22 L/);
    expect(way('  add water 200 mL\n')).toMatch(/to 40 %\nNO given off .*= 7\.4 L/);
    expect(way('  add water 0 mL\n')).toMatch(/NO2 given off +HNO3 strong .*= 22 L/);
  });

  it('counts what nobody assayed of a dissolved lot as copper', () => {
    const page = (assay: string): string =>
      wayOf(`${lot('100.0', assay)}plan dissolve V1\n  in A\n  add nitric-acid ?\n`, 'acid');
    expect(page('Ag 92.50 %')).toMatch(/Cu +7\.5 g/);
    expect(page('Ag 92.50 %, Au 7.50 %')).not.toMatch(/Cu +7\.5 g/);
  });

  it('of a small bead by what covers it', () => {
    const page = '2026-06-01\nreceive A 10 mg\n  expect Au 25 %, Ag 75 %\nplan part P1\n  in A\n';
    expect(writtenIn(page).slice(0, 2)).toEqual(['add nitric-acid ~5.0 mL', 'add water ~5.0 mL']);
  });

  it('uses the acid that the shop has', () => {
    const workshop = 'materials:\n  weak-nitric: { composition: { HNO3: 34 %, H2O: 66 % } }\n';
    const [acid, next] = writtenIn(planned('Au 26.0 %, Ag 74.0 %'), workshop);
    expect(acid).toMatch(/^add weak-nitric ~\d+ mL$/);
    expect(next).toMatch(/^out/);
    expect(Number(acid?.match(/~(\d+)/)?.[1])).toBeGreaterThan(140);
  });

  it('leaves what is written, and asks water only with acid that is asked', () => {
    const lines = '  add nitric-acid 120 mL\n  out G sponge\n  out L solution\n';
    expect(writtenIn(planned('Au 26.0 %, Ag 74.0 %', lines))).toEqual(['~26 g', '~120 mL']);
  });

  it('tells the ratio where it is done, and what is under 1.7 to 1', () => {
    const done = `${lot('100.0', 'Au 26.0 %, Ag 74.0 %')}part P1\n  in A 100.0 g\n  add nitric-acid 140 mL\n  out G 26.0 g sponge\n`;
    expect(labels(done)).toContainEqual(expect.stringContaining('2.8 : 1'));
    expect(said(pageWorkspace(planned('Au 40.0 %, Ag 55.0 %')))).toEqual(['ratio-too-low at "in A"']);
    expect(said(pageWorkspace(planned('Au 35.0 %, Ag 63.0 %')))).toEqual([]);
    const claimed = '2026-06-01\nreceive A 100.0 g\n  expect Au 40 %, Ag 55 %\nplan part P1\n  in A\n';
    expect(said(pageWorkspace(claimed))).toEqual(['ratio-too-low at "in A"']);
  });

  it('is not said to give its silver up where it does not part', () => {
    const way = wayOf(planned('Au 90.0 %, Ag 8.0 %', '  add nitric-acid 50 mL\n'), 'parted');
    expect(way).toMatch(/^Of 7\.6..8\.4 g of silver much stays in the gold; at most all of it goes into solution\./);
    expect(way).toMatch(/silver dissolved +at most 8\.0 g/);
  });

  it('is reckoned from no figure that is no number', () => {
    const page = planned('Au 26.0 %, Ag 74.0 %', '  add nitric-acid -3 mL\n');
    expect(said(pageWorkspace(page))).toEqual(['odd-number at "-3"']);
    expect(labels(page).join('\n')).not.toContain('-3');
  });

  it('with less acid than the nitrates hold cannot be', () => {
    const page = (millilitres: number): string =>
      planned('Au 26.0 %, Ag 74.0 %', `  add nitric-acid ${millilitres} mL\n`);
    // 74 g of silver are 43.2 g of acid in its nitrate: 45 mL.
    expect(said(pageWorkspace(page(40)))).toEqual(['acid-short at "40 mL"']);
    expect(said(pageWorkspace(page(50)))).toEqual([]);
  });

  it('and aqua regia are apart', () => {
    const page = `${lot('20.00', 'Au 90.0 %, Ag 5.0 %')}plan dissolve V1\n  in A\n`;
    expect(writtenIn(page)).toEqual([]);
    const mixed = `${page}  add nitric-acid ?\n  add hydrochloric-acid 60 mL\n`;
    expect(wayOf(mixed, 'acid')).toBe('');
    expect(wayOf(mixed, 'aqua regia')).toContain('HNO3');
  });
});

describe('silver brought back', () => {
  const page = (line: string): string =>
    `${lot('100.0', 'Ag 100.00 %, Au 0.00 %')}dissolve V1\n  in A 100.0 g\n  add nitric-acid 150 mL\n  out L 1.00 L solution\n\nplan drop R1\n  in L\n${line}`;

  // A gram of silver wants 0.5418 g of salt; a gram of copper brings down 3.395 g of silver; chloride is 0.7527 silver (IUPAC atomic weights;
  // Beringer & Beringer 1904).
  it('takes salt or copper by the equation and a tenth over, and gives metal or chloride', () => {
    const back = wayOf(page(''), 'silver back');
    const figure = (of: RegExp): number => Number(of.exec(back)?.[1]);
    const silver = figure(/silver in it +([\d.]+) g/);
    expect(silver).toBeGreaterThan(90);
    // Two digits are shown.
    expect(figure(/salt: salt .*= ([\d.]+) g/) / silver).toBeCloseTo(1.1 * 0.5418, 1);
    expect(figure(/copper: copper .*= ([\d.]+) g \(/) / silver).toBeCloseTo(1.1 / 3.395, 1);
    expect(figure(/dry chloride .*= ([\d.]+) g/) * 0.7527).toBeCloseTo(silver, -1);
    expect(writtenIn(page(''))).toEqual([]);
    expect(labels(page(''))).toContainEqual(expect.stringContaining('salt'));
  });

  it('is written in for the means that the plan names', () => {
    const [copper, metal, solution] = writtenIn(page('  add copper ?\n'));
    expect(copper).toMatch(/^~3\d g$/);
    expect(metal).toMatch(/^out ~\d+ g sponge dry$/);
    expect(solution).toBe('out ~1000 mL solution');
    const [salt, chloride] = writtenIn(page('  add salt\n'));
    expect(salt).toMatch(/^~5\d g$/);
    expect(chloride).toMatch(/^out ~13\d g other dry$/);
  });
});

describe('parted gold', () => {
  const parted = (assay: string, sponge: string, then = ''): string[] =>
    said(
      pageWorkspace(
        `${lot('20.00', assay)}part P1\n  in A 20.00 g\n  add nitric-acid 60 mL, add water 60 mL\n  out G ${sponge}\n  out L 0.20 L solution\n${then}`,
      ),
    );

  // After one acid up to 0.48 % of the gold is silver (Beringer & Beringer 1904): 5.00 g of gold weigh 5.02 g at most, and the assay is
  // good to two parts in a thousand.
  it.each([
    ['5.02 g sponge annealed', []],
    ['5.06 g sponge annealed', []],
    ['5.20 g sponge annealed', ['heavier-than-its-metal at "5.20 g"']],
    ['6.40 g sponge', ['heavier-than-its-metal at "6.40 g"']],
    ['6.40 g sponge wet', []],
  ])('of 5.00 g that weighs %s', (sponge, found) => {
    expect(parted('Au 25.0 %, Ag 74.0 %', sponge)).toEqual(found);
    expect(parted('Au 25.0 %', sponge)).toEqual(found);
  });

  it('boiled in a second acid is open for it: the ratio says nothing', () => {
    const page = `${lot('60.00', 'Au 25.0 %, Ag 74.0 %')}part P1\n  in A 60.00 g\n  add nitric-acid 100 mL, add water 100 mL\n  out G 15.03 g sponge\n  out L 0.25 L solution\n`;
    const done = `${page}part P2\n  in G 15.03 g\n  add nitric-acid 30 mL\n  out G2 15.01 g sponge annealed\n`;
    expect(said(pageWorkspace(done))).toEqual([]);
    expect(said(pageWorkspace(done.replace('15.01 g', '15.90 g')))).toEqual(['heavier-than-its-metal at "15.90 g"']);
    const planned = `${page}plan part P2\n  in G\n`;
    expect(said(pageWorkspace(planned))).toEqual([]);
    expect(writtenIn(planned)).toContain('out ~15.0 g sponge annealed');
  });

  it('that was assayed says itself what else is in it', () => {
    expect(parted('Au 25.0 %, Ag 74.0 %', '6.40 g sponge', 'assay G by fire\n  Au 78.0 %\n')).toEqual([]);
  });

  it('is told with the ratio where that is the cause, also where the silver was not assayed', () => {
    const page = `${lot('20.00', 'Au 75.0 %')}part P1\n  in A 20.00 g\n  out G 19.00 g sponge\n`;
    expect(parted('Au 75.0 %', '19.00 g sponge')).toEqual(['ratio-too-low at "in A 20.00 g"']);
    const [finding] = findingsOf(pageWorkspace(page), FILE);
    expect(finding?.says).toContain('at most 0.34 : 1');
    expect(finding?.says).toContain('What came out weighs 19.00 g');
    expect(finding?.says).toContain('at most 15.11 g');
    // 30 % of gold leaves room for silver enough: nothing is said of what nobody assayed.
    expect(parted('Au 30.0 %', '6.00 g sponge annealed')).toEqual([]);
  });

  it('rests on no claim', () => {
    const page =
      '2026-06-01\nreceive A 20.00 g\n  expect Au 25 %, Ag 74 %\npart P1\n  in A 20.00 g\n  out G 9.00 g sponge\n';
    expect(said(pageWorkspace(page))).toEqual([]);
  });
});

describe('what was brought down', () => {
  const dropped = (lines: string): string[] =>
    said(
      pageWorkspace(
        `${lot('100.0', 'Ag 99.00 %, Au 0.00 %')}dissolve V1\n  in A 100.0 g\n  add nitric-acid 150 mL\n  out L 1.00 L solution\n\ndrop R1\n  in L\n${lines}`,
      ),
    );

  // 99 g of silver are 131.5 g of chloride (IUPAC atomic weights).
  it.each([
    ['  add copper 32.0 g\n  out S 98.0 g sponge dry\n', []],
    // What of the copper the silver has not used up may lie in it.
    ['  add copper 60.0 g\n  out S 115.0 g sponge dry\n', []],
    ['  add copper 32.0 g\n  out S 115.0 g sponge dry\n', ['heavier-than-its-metal at "115.0 g"']],
    ['  add copper 32.0 g\n  out S 115.0 g sponge wet\n', []],
    ['  add salt 60 g\n  out S 130.0 g other dry\n', []],
    ['  add salt 60 g\n  out S 150.0 g other dry\n', ['heavier-than-its-metal at "150.0 g"']],
  ])('%j', (lines, found) => {
    expect(dropped(lines)).toEqual(found);
  });

  it('short because the copper was too little is one finding', () => {
    expect(dropped('  add copper 20.0 g\n  out S 66.0 g sponge dry\nassay S by fire\n  Ag 99.5 %\n')).toEqual([
      'precipitant-short at "20.0 g"',
    ]);
    expect(dropped('  add copper 32.0 g\n  out S 66.0 g sponge dry\nassay S by fire\n  Ag 99.5 %\n')).toEqual([
      'fine-missing at "66.0 g"',
    ]);
  });
});

describe('a plan made whole', () => {
  it('leaves nothing to write in, and nothing that these rules find', () => {
    const grams = fc.integer({ min: 5, max: 5000 });
    const makes = fc.record({
      gold: fc.integer({ min: 40, max: 300 }),
      ratio: fc.double({ min: 1.8, max: 3, noNaN: true }),
      verb: fc.constantFrom('part', 'dissolve', 'melt'),
      lines: fc.boolean(),
    });
    fc.assert(
      fc.property(grams, makes, (tenths, { gold, ratio, verb, lines }) => {
        const silver = Math.min(990 - gold, Math.round(gold * ratio));
        const asks = verb === 'melt' ? '  add silver ?\n' : lines || verb === 'dissolve' ? '  add nitric-acid ?\n' : '';
        const page = `${lot(`${tenths / 10}`, `Au ${gold / 10} %, Ag ${silver / 10} %`)}plan ${verb} P1\n  in A\n${asks}`;
        const whole = madeWhole(page);
        expect(writtenIn(whole)).toEqual([]);
        expect(said(pageWorkspace(whole)).filter((one) => /^(ratio-too-low|acid-short)/.test(one))).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });
});

describe('what brings silver down', () => {
  // A gram of copper brings down 3.395 g of silver, a gram of salt 1.846 g (IUPAC atomic weights).
  it.each([
    ['copper 20.0 g', ['precipitant-short at "20.0 g"']],
    ['copper 34.0 g', []],
    ['salt 40.0 g', ['precipitant-short at "40.0 g"']],
    ['salt 60.0 g', []],
  ])('%s for 99 g of silver', (what, found) => {
    const page = `${lot('100.0', 'Ag 99.00 %, Au 0.00 %')}dissolve V1\n  in A 100.0 g\n  add nitric-acid 150 mL\n  out L 1.00 L solution\n\nplan drop R1\n  in L\n  add ${what}\n`;
    expect(said(pageWorkspace(page))).toEqual(found);
  });
});
