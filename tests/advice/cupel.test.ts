/** The bench's word on cupelling: lead, cupel, heat, bead; for plans and for what was done. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withinWhole } from '../../server/advice/job';
import { hintsOf } from '../../server/features/hints';
import { findingsOf } from '../../server/rules/findings';
import { madeWhole, wayOf, writtenIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';
const lot = (grams: string, assay = ''): string =>
  `2026-06-01\n\nreceive A ${grams} g\n${assay === '' ? '' : `assay A by fire\n  ${assay}\n`}\n`;
const CUPELS = `cupels:
  bone-1: { weight: 35 g, material: bone-ash }
  cement-3: { weight: 128 g, material: cement }
  cement-4: { weight: 131 g, material: cement }
`;

describe('lead', () => {
  it("for base metal that nobody knows: about the lot's own weight to begin with", () => {
    expect(writtenIn(`${lot('61.0')}plan cupel K1\n  in A\n`)).toEqual(['add lead ~61 g']);
    const way = wayOf(`${lot('61.0')}plan cupel K1\n  in A\n`, 'lead');
    expect(way).toContain('Base metal in the charge is not known');
    expect(way).toContain('(common practice, no source)');
    expect(way).toContain('61 g (61..240)');
  });

  it('of a lot is never the assay table by the gram', () => {
    const [lead] = writtenIn(`${lot('61.0', 'Au 60.0 %, Ag 37.0 %')}plan cupel K1\n  in A\n`);
    expect(lead).toBe('add lead ~61 g');
    expect(wayOf(`${lot('61.0', 'Au 60.0 %, Ag 37.0 %')}plan cupel K1\n  in A\n`, 'lead')).not.toContain(
      '4 g lead for',
    );
  });

  it('is at least 16 parts for a part of base metal that an assay names', () => {
    // 61 g with 20 % base metal: 12.2 g, and 16 times that.
    expect(writtenIn(`${lot('61.0', 'Cu 20.0 %')}plan cupel K1\n  in A\n`)).toEqual(['add lead ~200 g']);
    expect(writtenIn(`${lot('61.0', 'Au 30.0 %, Ag 50.0 %, Cu 20.0 %')}plan cupel K1\n  in A\n`)[0]).toBe(
      'add lead ~200 g',
    );
  });

  it('for base metal that is only what gold and silver leave: its own weight to begin with, and as for copper at the most', () => {
    const page = `${lot('61.0', 'Au 30.0 %, Ag 40.0 %')}plan cupel K1\n  in A\n`;
    expect(writtenIn(page)[0]).toBe('add lead ~61 g');
    const way = wayOf(page, 'lead');
    expect(way).toContain('29..31 % base metal, and nobody said which: begin with 61 g of lead');
    expect(way).toContain('As copper it wants 290 g in all.');
    expect(way).toContain('lead in all       61 g (61..300)');
    expect(way).toContain('to begin with it is not counted, at the most it is all copper');
    // Half of it named: 16 times 9.15 g, and the rest as it may be.
    expect(writtenIn(page.replace('Ag 40.0 %', 'Ag 40.0 %, Cu 15.0 %'))[0]).toBe('add lead ~146 g');
    // 18.3 g as copper oxide, 1.252 a gram; as litharge 1.077, as iron 1.430.
    const cupel = wayOf(page, 'cupel');
    expect(cupel).toMatch(/18\.3 g × 1\.252 as CuO = 22\.9 g, not named/);
    expect(cupel).toContain('as lead at the least (1.077 of oxide a gram), as iron at the most (1.430)');
  });

  it('that is in the lot already is taken off', () => {
    expect(writtenIn(`${lot('60.0', 'Au 20.0 %, Ag 40.0 %, Pb 35.0 %')}plan cupel K1\n  in A\n`)[0]).toBe(
      'add lead ~18.0 g',
    );
  });

  // Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904: for 1 g of silver with a tenth of copper 8 g; for 0.5 g of gold
  // bullion 4 g, twice as much with a fifth of copper.
  it('of a sample is the assay table', () => {
    expect(writtenIn(`${lot('1.000', 'Ag 90.00 %, Cu 10.00 %')}plan cupel K1\n  in A\n`)[0]).toBe('add lead ~8.0 g');
    expect(writtenIn(`${lot('0.5000', 'Au 95.00 %, Ag 5.00 %')}plan cupel K1\n  in A\n`)[0]).toBe('add lead ~4.0 g');
    expect(writtenIn(`${lot('0.5000', 'Au 80.00 %, Ag 0.00 %')}plan cupel K1\n  in A\n`)[0]).toBe('add lead ~8.0 g');
    expect(wayOf(`${lot('1.000', 'Ag 90.00 %, Cu 10.00 %')}plan cupel K1\n  in A\n`, 'lead')).toContain(
      'by the assay table',
    );
  });

  it('that is written in a plan is held against the need', () => {
    const page = `${lot('61.0', 'Au 30.0 %, Ag 50.0 %, Cu 20.0 %')}plan cupel K1\n  in A\n  add lead 200 g\n`;
    expect(writtenIn(page)).not.toContainEqual(expect.stringContaining('lead'));
    expect(hintsOf(pageWorkspace(page), FILE).map(({ label }) => label)).toContainEqual(
      expect.stringContaining('lead wanted'),
    );
  });

  it('short of half the least that a table gives is told, unless the bead is assayed clean', () => {
    const page = (verb: string, lead: number, out = ''): string =>
      `${lot('60.00', 'Au 30.0 %, Ag 50.0 %, Cu 20.0 %')}${verb} K1\n  in A\n  add lead ${lead} g\n${out}`;
    expect(said(pageWorkspace(page('plan cupel', 60)))).toEqual(['lead-short at "60 g"']);
    expect(said(pageWorkspace(page('plan cupel', 110)))).toEqual([]);
    const bead = page('cupel', 60, '  out B 47.5 g bead\n');
    expect(said(pageWorkspace(bead))).toEqual(['lead-short at "60 g"']);
    expect(said(pageWorkspace(`${bead}\nassay B by fire\n  Au 37.4 %, Ag 62.4 %\n`))).toEqual([]);
  });

  it('is called short on what was said of the charge, within what that leaves open', () => {
    const page = (lead: number): string =>
      `2026-06-01\nreceive A 60.00 g\n  expect Au 30 %, Ag 50 %\nplan cupel K1\n  in A\n  add lead ${lead} g\n`;
    expect(said(pageWorkspace(page(60)))).toEqual([]);
    expect(said(pageWorkspace(page(40)))).toEqual([]);
    expect(said(pageWorkspace(page(20)))).toEqual(['lead-short at "20 g"']);
  });
});

describe('the cupel', () => {
  // Capacity of bone ash about its own weight in litharge (Villavecchia), 1.0772 g of it from a gram of lead.
  it('is full where its lead comes to its own weight of litharge', () => {
    const page = `${lot('32.5')}plan cupel K1\n  cupel-body bone-1\n  in A\n  add lead 32.5 g\n`;
    const labels = hintsOf(pageWorkspace(page, CUPELS), FILE).map(({ label }) => label);
    // 29.8 to 35.0 g of litharge in 35 g of bone ash, which takes 0.8 to 1.1 of its weight.
    expect(labels).toContain('100 % (77..125) full');
  });

  it('that a plan leaves out is looked for in the workshop', () => {
    const page = `${lot('52.36')}plan cupel K1\n  in A\n  add lead 52 g\n`;
    expect(wayOf(page, 'cupel', CUPELS)).toContain("Of the workshop's cupels cement-3 or cement-4 take them.");
    expect(wayOf(page.replace('lead 52', 'lead 300'), 'cupel', CUPELS)).toContain('4 like cement-4');
    expect(wayOf(page, 'cupel')).toMatch(/bone-ash +\d+\.\.\d+ g/);
  });

  it('is written in: the lightest that takes it, one that nobody used before any other', () => {
    const shop =
      'cupels:\n  a-1: { weight: 90 g, material: cement }\n  a-2: { weight: 91 g, material: cement }\n  "b 3": { weight: 200 g, material: cement }\n';
    const page = `${lot('52.36')}plan cupel K1\n  in A\n  add lead 50 g\n`;
    expect(writtenIn(page, shop)[0]).toBe('cupel-body a-1');
    const before = `${lot('52.36')}receive Z 20.00 g\ncupel K0\n  cupel-body a-1\n  in Z 20.00 g\n  add lead 20.00 g\n  out Y 19.00 g bead\n`;
    const later = page.slice(page.indexOf('plan'));
    expect(writtenIn(`${before}${later}`, shop)[0]).toBe('cupel-body a-2');
    expect(wayOf(`${before}${later}`, 'cupel', shop)).toMatch(/a-1 +.* full, used before/);
    expect(writtenIn(page.replace('50 g', '100 g'), shop)[0]).toBe('cupel-body "b 3"');
    // Together, where none takes it alone.
    const both = writtenIn(page.replace('50 g', '170 g'), shop);
    expect(both.slice(0, 2)).toEqual(['cupel-body "b 3"', 'cupel-body a-2']);
    expect(wayOf(page.replace('50 g', '170 g'), 'cupel', shop)).toContain('b 3 and a-2 take them together');
    expect(writtenIn(page.replace('50 g', '900 g'), shop).join()).not.toContain('cupel-body');
  });

  it('has one rule for its hint and its finding: a finding where the best value is above the whole', () => {
    const page = (lead: number): string =>
      `${lot('60.00')}cupel K1\n  cupel-body bone-1\n  in A 60.00 g\n  add lead ${lead}.00 g\n  out B 55.00 g bead\n`;
    const best = (text: string): number =>
      Number(
        /^(\d+)/.exec(
          hintsOf(pageWorkspace(text, CUPELS), FILE).find(({ label }) => label.endsWith(' full'))!.label,
        )?.[1],
      );
    for (const lead of [30, 36, 40, 44, 48, 60, 80]) {
      const isTold = said(pageWorkspace(page(lead), CUPELS)).some((one) => one.startsWith('cupel-overloaded'));
      expect(isTold).toBe(best(page(lead)) > 100);
    }
  });

  it('that will be nearly full is told until the bead is there', () => {
    const plan = (lead: number): string =>
      `${lot('30.00')}plan cupel K1\n  cupel-body bone-1\n  in A\n  add lead ${lead} g\n`;
    // 35 g of bone ash take 32.5 g of lead.
    expect(said(pageWorkspace(plan(31), CUPELS))).toEqual(['cupel-nearly-full at "bone-1"']);
    expect(said(pageWorkspace(plan(33), CUPELS))).toEqual(['cupel-overloaded at "bone-1"']);
    expect(said(pageWorkspace(plan(28), CUPELS))).toEqual([]);
    const done = `${lot('30.00')}cupel K1\n  cupel-body bone-1\n  in A 30.00 g\n  add lead 31.00 g\n  out B 29.80 g bead\n`;
    expect(said(pageWorkspace(done, CUPELS))).toEqual([]);
  });

  it('is filled by its weight before, several of them together', () => {
    const page = `${lot('60.00')}plan cupel K1\n  cupel-body bone-1, before 35.2 g\n  cupel-body bone-1, before 34.8 g\n  in A\n  add lead 60 g\n`;
    expect(hintsOf(pageWorkspace(page, CUPELS), FILE).map(({ label }) => label)).toContain('92 % (71..115) full');
  });

  it('that cannot take it up is told, unless its gain shows that it did', () => {
    const page = (after: string): string =>
      `${lot('60.00')}cupel K1\n  cupel-body bone-1, before 35.00 g${after}\n  in A 60.00 g\n  add lead 60.00 g\n  out B 55.00 g bead\n`;
    expect(said(pageWorkspace(page(''), CUPELS))).toEqual(['cupel-overloaded at "bone-1"']);
    expect(said(pageWorkspace(page(', after 102.60 g'), CUPELS))).toEqual([]);
  });
});

describe('the heat', () => {
  const page = (line: string, assay = ''): string =>
    `${lot('60.00', assay)}cupel K1\n  in A 60.00 g\n  add lead 60.00 g\n  ${line}\n  out B 54.50 g bead\n`;
  const SILVER = 'Au 1.0 %, Ag 90.5 %';

  // T. K. Rose, The Metallurgy of Gold: litharge is taken up only from about 840 °C, driving may fall to 770, 910 to finish.
  it('is held against its stage, with what a thermocouple may be out by', () => {
    expect(said(pageWorkspace(page('10:20 charged 800 °C')))).toEqual(['cupel-too-cold at "10:20 charged 800 °C"']);
    expect(said(pageWorkspace(page('10:20 driving 800 °C')))).toEqual([]);
    expect(said(pageWorkspace(page('10:20 driving 760 °C')))).toEqual([]);
    expect(said(pageWorkspace(page('10:20 driving 750 °C')))).toEqual(['cupel-too-cold at "10:20 driving 750 °C"']);
    expect(said(pageWorkspace(page('10:20 blick 850 °C')))).toEqual(['cupel-too-cold at "10:20 blick 850 °C"']);
    expect(said(pageWorkspace(page('10:20 muffle at 600 °C')))).toEqual([]);
  });

  it('is too hot for silver where gold stands it', () => {
    expect(said(pageWorkspace(page('10:20 driving 980 °C', SILVER)))).toEqual([
      'cupel-too-hot at "10:20 driving 980 °C"',
    ]);
    expect(said(pageWorkspace(page('10:20 driving 980 °C')))).toEqual([]);
    expect(said(pageWorkspace(page('10:20 driving 980 °C', 'Au 90.0 %, Ag 1.0 %')))).toEqual([]);
    expect(said(pageWorkspace(page('10:20 driving 1200 °C', 'Au 90.0 %, Ag 1.0 %')))).toEqual([
      'cupel-too-hot at "10:20 driving 1200 °C"',
    ]);
  });
});

describe('the bead', () => {
  // Beringer & Beringer 1904: 400 mg of silver with 20 g of lead lose 1.75 %.
  it('of an assay is what the published trials leave', () => {
    const page = `${lot('0.4000', 'Ag 100.00 %, Au 0.00 %')}plan cupel K1\n  in A\n  add lead 20 g\n`;
    expect(writtenIn(page)).toEqual(['out ~0.39 g bead']);
    expect(wayOf(page, 'bead')).toMatch(
      /silver in cupel +0\.400 g × 1\.75 % \(1\.23\.\.2\.28\) = 7\.0 mg \(4\.9\.\.9\.1\)/,
    );
  });

  it('is written where it has no weight, and not where gold and silver are not known', () => {
    const page = `${lot('61.0', 'Au 60.0 %, Ag 37.0 %')}plan cupel K1\n  in A\n  add lead 61 g\n  out B bead\n`;
    expect(writtenIn(page)).toEqual(['~59 g']);
    expect(writtenIn(`${lot('61.0')}plan cupel K1\n  in A\n  add lead 61 g\n  out B bead\n`)).toEqual([]);
  });

  it('above what the assays allow is not finished', () => {
    const page = (grams: string, assay = 'Au 60.0 %, Ag 30.0 %'): string =>
      `${lot('60.00', assay)}cupel K1\n  in A 60.00 g\n  add lead 100.0 g\n  out B ${grams} g bead\n`;
    expect(said(pageWorkspace(page('57.20')))).toEqual(['bead-unfinished at "57.20 g"']);
    expect(said(pageWorkspace(page('53.80')))).toEqual([]);
    const [finding] = findingsOf(pageWorkspace(page('57.20')), FILE);
    expect(finding?.says).toMatch(
      /^The bead weighs 57\.20 g; gold and silver by the assays come to 54\.\d+ g at most\./,
    );
    expect(finding?.related?.map(({ says }) => says)).toEqual(['assay A tells of the charge']);
    // Its weight is then no gold and silver.
    const labels = (grams: string): string[] => hintsOf(pageWorkspace(page(grams)), FILE).map(({ label }) => label);
    expect(labels('57.20')).toContain('2.80 g gone, the bead is not finished');
    expect(labels('53.80').join('\n')).toMatch(/base metal gone, Au\+Ag/);
  });

  it('tells what the cupel keeps of gold and silver, as a range', () => {
    const page = `${lot('60.00', 'Au 60.0 %, Ag 30.0 %')}cupel K1\n  in A 60.00 g\n  add lead 100.0 g\n  out B 53.60 g bead\n`;
    const head = hintsOf(pageWorkspace(page), FILE).find(({ family }) => family === 'cupel');
    expect(head?.label).toBe('6.40 g base metal gone, Au+Ag 89.33 %');
    expect(head?.tooltip()).toMatch(/before were 53\.\d+\.\.\d+\.\d+ g/);
    expect(head?.tooltip()).toMatch(/silver in cupel +18\.0 g × 2 % \(1\.\.3\) = 0\.\d+ g/);
  });
});

describe('what is charged', () => {
  it('never adds up to more than the whole, and what is only guessed gives way', () => {
    const share = fc.record({
      metal: fc.constantFrom('Au', 'Ag', 'Cu', 'Pb', 'Zn'),
      best: fc.double({ min: 0, max: 1, noNaN: true }),
      below: fc.double({ min: 0, max: 0.3, noNaN: true }),
      above: fc.double({ min: 0, max: 0.3, noNaN: true }),
      isGuess: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.uniqueArray(share, { selector: ({ metal }) => metal, maxLength: 5 }), (all) => {
        const found = all.map(({ metal, best, below, above, isGuess }) => ({
          metal,
          isGuess,
          share: { best, low: Math.max(0, best - below), high: best + above },
        }));
        const held = [...withinWhole(found).values()];
        const sum = (end: 'low' | 'best'): number => held.reduce((so, one) => so + one[end], 0);
        expect(sum('best')).toBeLessThanOrEqual(1 + 1e-9);
        for (const { low, best, high } of held) {
          expect(low).toBeLessThanOrEqual(best);
          expect(best).toBeLessThanOrEqual(high);
          expect(high + sum('low') - low).toBeLessThanOrEqual(1 + 1e-9 + Math.max(0, best + sum('low') - low - 1));
        }
      }),
    );
  });

  it('of an expectation and a usual make together', () => {
    const page = '2026-06-01\nreceive A 40.0 g\n  material sterling\n  expect Au 5 %, Ag 94 %\nplan cupel K1\n  in A\n';
    // Sterling is a twelfth copper: of 40 g there are 3 g, and no more than 37 g for gold and silver.
    expect(wayOf(page, 'lead')).toMatch(/gold and silver +37 g/);
    expect(wayOf(page, 'lead')).toMatch(/base metal +3\.0 g/);
  });
});

describe('a plan made whole', () => {
  it('leaves nothing to write in, and nothing that these rules find', () => {
    const shares = fc.tuple(fc.integer({ min: 20, max: 600 }), fc.integer({ min: 20, max: 390 }));
    const grams = fc.integer({ min: 3, max: 6000 });
    fc.assert(
      fc.property(grams, shares, fc.boolean(), (tenths, [gold, silver], isNamed) => {
        const assay = `Au ${gold / 10} %, Ag ${silver / 10} %`;
        const page = `${lot(`${tenths / 10}`, assay)}plan cupel K1\n  in A\n${isNamed ? '  add lead ?\n  out B bead\n' : ''}`;
        const whole = madeWhole(page);
        expect(writtenIn(whole)).toEqual([]);
        const ours = /^(lead-short|cupel-|bead-unfinished)/;
        expect(said(pageWorkspace(whole)).filter((one) => ours.test(one))).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });
});

describe('a small bead', () => {
  const plan = (lot: string): string => `2026-06-01\n${lot}\nplan cupel K1\n  in B\n`;

  // 10 g of lead for a gram, as 3 g for 0.3 g of gold bullion (Beringer & Beringer 1904).
  it('of ten milligrams wants a tenth of a gram of lead', () => {
    const page = plan('receive B 10 mg\n  expect Au 80 %, Ag 20 %');
    expect(writtenIn(page)).toContain('add lead ~0.100 g');
    expect(wayOf(page, 'lead')).toContain('in proportion, no source');
  });

  it('without lead in it never has lead enough', () => {
    const page = plan('receive B 1 mg');
    expect(writtenIn(page).join()).toContain('add lead ~1');
    expect(wayOf(page, 'lead')).not.toContain('enough');
  });
});

describe('a button that litharge was reduced for', () => {
  it('is lead where gold and silver leave room: no lead is asked for its own lead', () => {
    const page =
      '2026-06-01\nreceive A 3.0 g\n  material lemel\nmelt M1\n  in A\n  add litharge 30 g, add soda-ash 20 g, add flour 2 g, add borax-glass 8 g\n  out B 22 g button\n  out S 30 g slag\nplan cupel K1\n  in B\n';
    expect(writtenIn(page).join()).not.toContain('lead');
    expect(wayOf(page, 'lead')).toContain('20 g of lead is in the charge: enough to begin with.');
  });
});

describe('silver that was added for a cupellation', () => {
  const cupelled = (bead: string): string =>
    `2026-06-01\nreceive A 40.00 g\n  material gold\ncupel K1\n  in A 40.00 g\n  add silver 80.00 g\n  add lead 120 g\n  out B ${bead} g bead\n`;
  const label = (bead: string): string =>
    hintsOf(pageWorkspace(cupelled(bead)), FILE).find(({ label }) => /gone|heavier/.test(label))!.label;

  it('is no base metal gone where the cupel kept its usual part of it', () => {
    // 1.40 g less than went in: 1.75 % of the silver.
    expect(label('118.60')).toBe('0.000 g base metal gone, Au+Ag 100.00 %');
  });

  it('is so where more is gone than the cupel keeps', () => {
    expect(label('112.00')).toMatch(/^6\.\d+ g base metal gone/);
  });

  it('makes no bead heavier than it is', () => {
    expect(label('120.50')).toMatch(/heavier/);
  });
});
