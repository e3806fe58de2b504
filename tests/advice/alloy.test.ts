/** Alloying to a target: what a plan must add, and what is said where it cannot be. Finenesses and sums by balance of mass. */
import { describe, expect, it } from 'vitest';
import { planOf, plansOn } from '../../server/advice/plans';
import { hintsOf } from '../../server/features/hints';
import { hoverAt } from '../../server/features/hover';
import { findingsOf } from '../../server/rules/findings';
import { wayOf, writtenIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';

const planText = (page: string): string => {
  const workspace = pageWorkspace(page);
  return planOf(workspace, plansOn(workspace, FILE)[0]!)!.filled.text;
};

const grams = (text: string, material: string): number =>
  Number(new RegExp(`add ${material} ~([\\d.]+) g`).exec(text)?.[1] ?? Number.NaN);

const FOURTEEN = '2026-06-01\nreceive A 100.00 g\nassay A by fire, corrected\n  Au 58.333 %\n';

describe('a plan with a target', () => {
  // Published check MET-031: 100 g of 14 karat want 66.667 g of fine gold for 18 karat.
  it('brings a lot up with gold where the target asks for more', () => {
    const text = planText(`${FOURTEEN}plan cast C1\n  in A\n  expect Au 18 k\n  out B bar\n`);
    expect(grams(text, 'gold')).toBeCloseTo(66.67, 1);
  });

  // Published check MET-032: 100 g of fine gold want 9.091 g of base metal for 22 karat.
  it('brings a lot down with the metal that it names', () => {
    const fine = '2026-06-01\nreceive A 100.00 g\n  material gold\n';
    const text = planText(`${fine}plan cast C1\n  in A\n  add copper ?\n  expect Au 22 k\n  out B bar\n`);
    expect(grams(text, 'copper')).toBeCloseTo(9.09, 1);
  });

  // 40 × (0.9167 − 0.75)/0.75 = 8.891 in all. Rose's usual 18 karat is 750 gold, 125 silver, 125 copper: 48.89 g of it hold 6.11 g of silver,
  // of which 3.33 g are there.
  it('brings gold down where no metal is named with silver and copper as in the usual alloy of that fineness', () => {
    const fine = '2026-06-01\nreceive A 40.00 g\nassay A by fire, corrected\n  Au 916.7 fine, Ag 83.3 fine\n';
    for (const lines of ['', '  add silver ?\n  add copper ?\n']) {
      const page = `${fine}plan cast C1\n  in A\n${lines}  expect Au 18 k\n  out B bar\n`;
      const text = planText(page);
      expect(grams(text, 'silver')).toBeCloseTo(2.779, 2);
      expect(grams(text, 'copper')).toBeCloseTo(6.112, 2);
      expect(text).toContain('out B ~48.8 g bar');
      expect(wayOf(page, 'alloy')).toContain('8.891 g in all, in whatever share');
      expect(wayOf(page, 'pour')).toContain('Au 75 %, Ag 12.5 %, Cu 12.5 %');
      expect(said(pageWorkspace(page))).toEqual([]);
    }
  });

  it('does so too where a cover of flux comes first', () => {
    const text = planText(
      '2026-06-01\nreceive A 50.00 g\nassay A by fire\n  Au 91.67 %, Ag 4 %, Cu 4.33 %\nplan melt M1\n  in A\n  expect Au 18 k\n',
    );
    expect(grams(text, 'silver') + grams(text, 'copper')).toBeCloseTo(11.11, 2);
    expect(text).toMatch(/out ~61\.\d g button/);
  });

  it('brings silver down with copper', () => {
    const text = planText(
      '2026-06-01\nreceive A 50.00 g\nassay A by fire, corrected\n  Ag 999 fine\nplan cast C1\n  in A\n  expect Ag 925 fine\n',
    );
    // 50 × (0.999 − 0.925)/0.925
    expect(grams(text, 'copper')).toBeCloseTo(4, 1);
  });

  it('leaves to the writer how other metals share', () => {
    const page =
      '2026-06-01\nreceive A 40.00 g\nassay A by fire, corrected\n  Au 916.7 fine, Ag 83.3 fine\nplan cast C1\n  in A\n  add copper ?\n  add zinc ?\n  expect Au 18 k\n';
    expect(hintsOf(pageWorkspace(page), FILE).map(({ label }) => label)).toContain('8.891 g copper and zinc together');
    expect(writtenIn(page).join()).not.toContain('bar');
    // Nor is it poured like the gold that goes in.
    expect(wayOf(page, 'pour')).toBe('');
  });

  it('finds the two metals that bring a target of two with the least', () => {
    const lot = '2026-06-01\nreceive A 100.00 g\nassay A by fire, corrected\n  Au 75.00 %, Ag 12.50 %, Cu 12.50 %\n';
    const text = planText(`${lot}plan cast C1\n  in A\n  expect Au 75 %, Ag 20 %\n`);
    // Copper may be 5 %: 12.5 g in 250 g.
    expect(grams(text, 'gold')).toBeCloseTo(112.5, 0);
    expect(grams(text, 'silver')).toBeCloseTo(37.5, 0);
    expect(text).not.toContain('add copper');
  });

  it('cannot be above the whole, planned or done', () => {
    const page = (prefix: string, target: string): string[] =>
      said(pageWorkspace(`${FOURTEEN}${prefix}cast C1\n  in A\n  expect ${target}\n  out B 99.90 g bar\n`));
    for (const prefix of ['plan ', '']) {
      expect(page(prefix, 'Au 25 k')).toEqual(['composition-above-whole at "Au 25 k"']);
      expect(page(prefix, 'Au 80 %, Ag 30 %')).toContain('composition-above-whole at "Au 80 %, Ag 30 %"');
    }
  });

  it('gives the sum its best value where the assay is loose', () => {
    const page =
      '2026-06-01\nreceive A 50.00 g\nassay A by fire\n  Au 22 k, Ag 4.2 %, Cu 4.13 %\nplan cast C1\n  in A\n  expect Au 18 k\n';
    // 50 × (0.9167 − 0.75)/0.75
    expect(wayOf(page, 'alloy')).toMatch(/= 11 g \([\d.]+\.\.\d+\)\nusual silver/);
  });

  it('takes karats for the mark that stands for them where that is higher: 585 for 14 karat', () => {
    const fine = '2026-06-01\nreceive A 58.5 g\n  material gold\n';
    const text = planText(`${fine}plan cast C1\n  in A\n  add copper ?\n  expect Au 14 k\n  out B bar\n`);
    expect(grams(text, 'copper')).toBeCloseTo(58.5 * (0.9999 / 0.585 - 1), 0);
  });

  it('adds three metals to a lot of three: the one that there is most of is not added', () => {
    const lot = '2026-06-01\nreceive A 100.00 g\nassay A by fire, corrected\n  Au 75.00 %, Ag 12.50 %, Cu 12.50 %\n';
    const text = planText(`${lot}plan cast C1\n  in A\n  expect Au 585 fine, Ag 200 fine, Cu 215 fine\n  out B bar\n`);
    const total = 75 / 0.585;
    expect(text).not.toContain('add gold');
    expect(grams(text, 'silver')).toBeCloseTo(total * 0.2 - 12.5, 1);
    expect(grams(text, 'copper')).toBeCloseTo(total * 0.215 - 12.5, 1);
  });

  it('makes an 18 karat alloy of fine gold with both metals of the target', () => {
    const fine = '2026-06-01\nreceive A 30.00 g\n  material gold\n';
    const text = planText(`${fine}plan melt M1\n  in A\n  expect Au 750 fine, Ag 125 fine, Cu 125 fine\n`);
    expect(grams(text, 'silver')).toBeCloseTo(5, 1);
    expect(grams(text, 'copper')).toBeCloseTo(5, 1);
  });

  it('takes an alloy from the shelf as what it holds', () => {
    const fine = '2026-06-01\nreceive A 30.00 g\n  material gold\n';
    const text = planText(`${fine}plan melt M1\n  in A\n  add sterling ? g\n  expect Au 18 k\n`);
    expect(grams(text, 'sterling')).toBeCloseTo(10, 1);
  });

  it('counts what is written with its weight, and writes once', () => {
    const workspace = pageWorkspace(
      `${FOURTEEN}plan cast C1\n  in A\n  add gold 20.00 g\n  add gold ?\n  expect Au 18 k\n`,
    );
    const plan = planOf(workspace, plansOn(workspace, FILE)[0]!)!;
    expect(grams(plan.filled.text, 'gold')).toBeCloseTo(46.67, 1);
    expect(plan.written.filter(({ writing }) => writing.range.startsWith('gold')).length).toBe(1);
  });

  it('takes a target said behind its product', () => {
    const text = planText(`${FOURTEEN}plan cast C1\n  in A\n  out B bar, expect Au 18 k\n`);
    expect(grams(text, 'gold')).toBeCloseTo(66.67, 1);
  });

  it('says why a target is out of reach', () => {
    const says = (rest: string) =>
      findingsOf(pageWorkspace(`${FOURTEEN}plan cast C1\n  in A\n${rest}`), FILE).map(
        (one) => `${one.code}: ${one.says}`,
      );
    expect(says('  add copper ?\n  expect Au 18 k\n')).toEqual([
      'target-out-of-reach: What goes in holds 58.33 % gold, the target is 75 %, and copper holds 0 %: adding it leads away from the target. Add gold.',
    ]);
    expect(says('  expect Au 9 k\n')).toEqual([]);
    expect(says('  add copper ?\n  add sterling ?\n  expect Ag 60 %\n')).toEqual([]);
    expect(says('  add copper ?\n  add gold ?\n  expect Au 9 k\n')[0]).toContain('Name all its metals');
  });

  it('is no finding where what goes in is not known, but is said', () => {
    const workspace = pageWorkspace('2026-06-01\nreceive A 50.0 g\nplan cast C1\n  in A\n  expect Au 18 k\n');
    expect(said(workspace)).toEqual([]);
    expect(hintsOf(workspace, FILE).map(({ label }) => label)).toContain('Au of what goes in not known');
  });
});

describe('a product with a target', () => {
  it('counts as a guess of it where nothing better is known', () => {
    const workspace = pageWorkspace(
      '2026-06-01\nreceive A 50.0 g\ncast C1\n  in A\n  expect Au 18 k\n  out B 49.9 g bar\n',
    );
    expect(hintsOf(workspace, FILE).some(({ label }) => label.includes('~37 g Au') || label.includes('Au ~37'))).toBe(
      true,
    );
    expect(said(workspace)).toEqual([]);
  });

  it('is held against its own assay', () => {
    const page = `${FOURTEEN}cast C1\n  in A\n  add gold 66.67 g\n  out B 166.6 g bar, expect Au 18 k\nassay B by fire, corrected\n`;
    expect(said(pageWorkspace(`${page}  Au 75.02 %\n`))).toEqual([]);
    expect(said(pageWorkspace(`${page}  Au 73.90 %\n`))).toContain('off-target at "B"');
  });

  it('is not held against what is only said of what went in', () => {
    const page =
      '2026-06-01\nreceive A 50.0 g\n  stamp Au 14 k\ncast C1\n  in A\n  expect Au 18 k\n  out B 49.9 g bar\n';
    expect(said(pageWorkspace(page))).toEqual([]);
  });
});

describe('a fineness of the trade', () => {
  it.each([
    ['Au 18 k', 'The mark 750: 18 karat'],
    ['Au 585 fine', 'The mark 585: 14 karat'],
    ['Ag 92.5 %', 'The mark 925: sterling'],
  ])('%s is known by its name', (reading, words) => {
    const page = `2026-06-01\nreceive A 20.00 g\n  stamp ${reading}\n`;
    const hover = hoverAt(pageWorkspace(page), FILE, page.indexOf(reading) + 3);
    expect(hover?.markdown).toContain(words);
    expect(hover?.markdown).toContain('ISO 9202');
  });
});

// Tukes, guidance on fineness marks: 588 is marked 585.
it('an assay is told the largest mark that it reaches, and a share that is paid none', () => {
  const page = '2026-06-01\nreceive A 20.00 g\nassay A by fire\n  Au 588 fine\n';
  expect(hoverAt(pageWorkspace(page), FILE, page.indexOf('588'))?.markdown).toContain('Marked 585 at most');
  const paid = '2026-06-01\nreceive A 20.00 g\nship V1 to X\n  in A\nsettle V1\n  pays Au 58.8 %\n';
  expect(hoverAt(pageWorkspace(paid), FILE, paid.indexOf('58.8'))?.markdown ?? '').not.toContain('Marked');
});

describe('a target that leaves one metal to be the rest', () => {
  // 49.95 g of gold / 0.585 = 85.38 g; 0.2, 0.03 and 0.185 of that.
  it('is reckoned as if that were named too', () => {
    const page =
      '2026-06-01\nreceive A 50.00 g\nassay A by fire\n  Au 999 fine\nplan cast C1\n  in A\n  add silver ?\n  add copper ?\n  add zinc ?\n  out B bar, expect Au 14 k, Ag 20 %, Zn 3 %\n';
    const [silver, zinc, copper] = writtenIn(page).map((text) => Number(/[\d.]+/.exec(text)?.[0]));
    expect(silver).toBeCloseTo(17.08, 1);
    expect(copper).toBeCloseTo(15.8, 1);
    expect(zinc).toBeCloseTo(2.56, 1);
  });
});

describe('a lot that nobody assayed', () => {
  const page = (what: string): string =>
    `2026-06-22\n\nreceive A 100.00 g\n  ${what}\n\nplan cast C1\n  in A\n  out B bar, expect Au 75 %\n`;

  // Scrap is a fifth to nineteen twentieths gold: gold to add to it would be anything from none to 270 g.
  it('is alloyed by no usual make of its kind, and told to be assayed', () => {
    expect(writtenIn(page('material scrap')).join()).not.toContain('gold');
    expect(hintsOf(pageWorkspace(page('material scrap')), 'page.melt').map(({ label }) => label)).toContain(
      'Au known too roughly: assay it',
    );
    expect(said(pageWorkspace(page('material scrap')))).toEqual([]);
  });

  it('is alloyed by what was said of it, or by the metal that its name is', () => {
    expect(writtenIn(page('expect Au 58..60 %')).join()).toContain('add gold ~');
    expect(writtenIn(page('material gold').replace('Au 75 %', 'Au 75 %, Ag 25 %')).join()).toContain('add silver ~');
  });
});

describe('a guess that is good to no more than a half', () => {
  it('is shown without its ±, which could go below nothing', () => {
    const page =
      '2026-06-22\n\nreceive A 100.00 g\n  material lemel\n\nmelt M1\n  in A 100.00 g\n  out B 88.00 g button\n';
    const label = hintsOf(pageWorkspace(page), 'page.melt').find((one) => one.label.includes('a guess'))!.label;
    expect(label).toMatch(/^Au ~40 g, /);
    expect(label).not.toContain('±');
  });
});
