/** What a cupel or an acid does not take as it takes copper, and silver that is added on the cupel. */
import { describe, expect, it } from 'vitest';
import { wayOf, writtenIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const lot = (assay: string, more = ''): string =>
  `2026-06-01\n\nreceive A 10.00 g\nassay A by xrf\n  ${assay}\n\nplan cupel K1\n  in A\n${more}`;

describe('silver that is added on the cupel', () => {
  const own = lot('Au 60.0 %, Ag 38.0 %');

  it('is part of the weight that lead is begun with', () => {
    // 0.2 g of base metal wants 3.2 g; the charge of 10 g and 12 g of silver its own weight.
    expect(writtenIn(own)[0]).toBe('add lead ~10.0 g');
    expect(writtenIn(`${own}  add silver 12 g\n`)[0]).toBe('add lead ~22 g');
    const way = wayOf(`${own}  add silver 12 g\n`, 'lead');
    expect(way).toContain('charge            10 g and 12 g of gold or silver added = 22 g');
  });

  it('makes the share of base metal less, and the cupel larger', () => {
    const rich = lot('Au 50.0 %, Ag 20.0 %', '  add silver 10 g\n');
    // 3 g of 20 g.
    expect(wayOf(rich, 'lead')).toMatch(/The charge holds 1[45]\.*\d* ?%? base metal|The charge holds 15 % base metal/);
    const [few, many] = [own, `${own}  add silver 12 g\n`].map((page) =>
      Number(/in all +([\d.]+) g/.exec(wayOf(page, 'cupel'))![1]),
    );
    expect(many! / few!).toBeGreaterThan(2);
  });

  it('of an assay is counted in its table', () => {
    const sample = (more: string): string =>
      `2026-06-01\nreceive A 0.500 g\nassay A by xrf\n  Au 95.00 %, Ag 5.00 %\nplan cupel K1\n  in A\n${more}`;
    expect(wayOf(sample(''), 'lead')).toContain('A sample of 0.50 g');
    expect(wayOf(sample('  add silver 0.450 g\n'), 'lead')).toContain('A sample of 0.95 g');
  });
});

describe('on the cupel', () => {
  it('platinum and palladium stay in the bead, and that is said with its source', () => {
    const page = lot('Au 60.0 %, Ag 20.0 %, Pt 5.0 %, Pd 2.0 %, Cu 13.0 %');
    const way = wayOf(page, 'other metals');
    expect(way).toContain(
      'Platinum stays in the bead, and dulls and crystallises its surface. Palladium stays in the bead.',
    );
    expect(way).toMatch(/platinum +0\.50 g/);
    expect(way).toContain(
      '(surface: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; the rest from memory)',
    );
    expect(said(pageWorkspace(page)).join()).not.toContain('spoils-cupel');
    // They are part of the bead that is written in.
    expect(wayOf(page, 'bead')).toMatch(/finished bead weighs 8\.\d?/);
  });

  it.each([
    ['Sn', 'tin', 'scoria'],
    ['Ni', 'nickel', 'scorify it first'],
    ['Sb', 'antimony', 'cracks and unfolds the cupel'],
  ])('%s spoils it', (symbol, name, words) => {
    const page = lot(`Au 40.0 %, Ag 30.0 %, ${symbol} 6.0 %`);
    expect(said(pageWorkspace(page))).toContain('spoils-cupel at "in A"');
    const way = wayOf(page, 'other metals');
    expect(way.toLowerCase()).toContain(name);
    expect(way).toContain(words);
  });

  it('a trace of tin is not worth a word, nor is what is only guessed at', () => {
    expect(wayOf(lot('Au 40.0 %, Ag 30.0 %, Sn 0.5 %'), 'other metals')).toBe('');
  });

  it('ore, ash, salt and gold in quartz are told to be smelted first, and get no lead', () => {
    for (const material of ['black-sand', 'quartz', 'sweeps', 'sulphide-concentrate', 'silver-chloride']) {
      const page = `2026-06-01\nreceive A 40 g\n  material ${material}\nplan cupel K1\n  in A\n`;
      expect(said(pageWorkspace(page))).toContain('no-metal-to-cupel at "A"');
      expect(writtenIn(page)).toEqual([]);
    }
    const nugget =
      '2026-06-01\nreceive A 28.40 g\nassay A by density\n  air 28.40 g, water 24.10 g 18 °C\n  material quartz\nplan cupel K1\n  in A\n';
    expect(said(pageWorkspace(nugget))).toContain('no-metal-to-cupel at "A"');
  });

  it('scrap, lemel, buttons and lots of unknown make are metal', () => {
    for (const material of ['scrap', 'lemel', 'placer-gold'])
      expect(
        said(pageWorkspace(`2026-06-01\nreceive A 40 g\n  material ${material}\nplan cupel K1\n  in A\n`)).join(),
      ).not.toContain('no-metal');
    expect(said(pageWorkspace('2026-06-01\nreceive A 40 g\nplan cupel K1\n  in A\n')).join()).not.toContain('no-metal');
  });
});

describe('in the acid', () => {
  const parted = (assay: string): string => lot(assay).replace('plan cupel K1', 'plan part P1');

  it('platinum goes partly with the silver, palladium colours it orange', () => {
    const way = wayOf(parted('Au 24.0 %, Ag 70.0 %, Pt 3.0 %, Pd 3.0 %'), 'other metals');
    expect(way).toContain('straw yellow');
    expect(way).toContain('orange');
  });

  it('tin makes a slime', () => {
    expect(said(pageWorkspace(parted('Au 24.0 %, Ag 65.0 %, Sn 5.0 %')))).toContain('spoils-parting at "in A"');
  });

  it('nickel goes as copper does: nothing is said', () => {
    expect(wayOf(parted('Au 24.0 %, Ag 70.0 %, Ni 6.0 %'), 'other metals')).toBe('');
  });
});

describe('what else a practitioner looks for', () => {
  it('is how bead and cupel look: told in a plan, each sign with what it means', () => {
    const way = wayOf(lot('Au 60.0 %, Ag 38.0 %'), 'signs');
    expect(way).toContain('the bead spreads and sticks to a blackened cupel: copper is left: too little lead');
    expect(way).toContain('the bead sprouted: oxygen left the silver as it froze');
  });

  it('is what the standard for jewellery asks of lead at the least', () => {
    const sample = (milligrams: number, assay: string): string =>
      wayOf(`2026-06-01\nreceive A ${milligrams} mg\nassay A by xrf\n  ${assay}\nplan cupel K1\n  in A\n`, 'lead');
    // ISO 11426: 4 g up to 200 mg, 6 g up to 300 mg, 4 g more with nickel.
    expect(sample(200, 'Au 75.0 %, Ag 12.0 %')).toContain('takes 4 g of lead for 200 mg at the least (ISO 11426');
    expect(sample(250, 'Au 75.0 %, Ag 12.0 %')).toContain('takes 6 g of lead for 250 mg');
    expect(sample(200, 'Au 75.0 %, Ag 12.0 %, Ni 5.0 %')).toContain('takes 8 g of lead for 200 mg');
    expect(sample(500, 'Au 75.0 %, Ag 12.0 %')).not.toContain('ISO 11426:2014)\nan assay');
  });

  it('is that fine silver spits as it freezes', () => {
    const poured = (make: string): string =>
      wayOf(`2026-06-01\nreceive B 100.00 g\nassay B by fire, corrected\n  ${make}\nplan cast C1\n  in B\n`, 'pour');
    expect(poured('Ag 99.90 %, Cu 0.10 %')).toContain('Silver spits as it freezes');
    expect(poured('Au 75.00 %, Ag 12.50 %, Cu 12.50 %')).not.toContain('spits');
  });
});
