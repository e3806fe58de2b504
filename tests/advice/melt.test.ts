/** A melt planned and done: its fluxes, crucible, mould and products, and what is said of its slag. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { jobOf } from '../../server/advice/job';
import { answersOf, type Plan, planOf, plansOn } from '../../server/advice/plans';
import { adviceOn } from '../../server/advice/topics';
import { hintsOf } from '../../server/features/hints';
import { planActionsAt } from '../../server/features/plan-actions';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';

const SHOP = `crucibles:
  C2: 60 mL
  C4: 400 mL
  C5: 650 mL
moulds:
  bar-2: 40 mL
  cone-1: 150 mL
  cone-2: 320 mL
materials:
  tarn-sand:
    from: black-sand
    moisture: 1.5 %
  fell-ore:
    composition: { SiO2: 60 %, CaO: 25 %, Fe2O3: 10 % }
    bulk density: 1.6 g/mL
`;

const RECIPES = `recipes:
  shop-flux:
    borax-glass: 5 parts
    soda-ash: 3 parts
    silica: 2 parts
  silver-mix:
    silver: 50 %
    borax-glass: 50 %
`;

/** Codes of the rules that rest on these questions. */
const RULES = ['slag-too-acid', 'slag-too-basic', 'slag-stiff', 'sulphur-left', 'niter-with-fuel', 'mould-too-small'];

const lot = (material: string, grams = 200, more = ''): string =>
  `2026-06-01\nreceive A ${grams} g\n  material ${material}\n${more}`;

const planned = (page: string, workshop?: string): Plan => {
  const workspace = pageWorkspace(page, workshop);
  return planOf(workspace, plansOn(workspace, FILE)[0]!)!;
};

const textOf = (page: string, workshop?: string): string => planned(page, workshop).filled.text;

const grams = (text: string, name: string): number =>
  Number(new RegExp(`add ${name} ~?([\\d.]+) g`).exec(text)?.[1] ?? Number.NaN);

const labelsOf = (page: string, workshop?: string): string[] =>
  hintsOf(pageWorkspace(page, workshop), FILE).map(({ label }) => label);

const wordsOf = (plan: Plan): string =>
  answersOf(plan)
    .map(({ working }) => {
      const { says, rows = [], todo = '' } = working();
      return [says, ...rows, todo].join('\n');
    })
    .join('\n');

/** Of what is done, what the bench has to say of it. */
const doneWords = (page: string, workshop?: string): string => {
  const workspace = pageWorkspace(page, workshop);
  const entry = workspace.pages.get(FILE)!.entries.find(({ verb }) => verb === 'melt')!;
  return adviceOn(jobOf(workspace, entry, true)!)
    .map(({ working }) => {
      const { says, rows = [] } = working();
      return [says, ...rows].join('\n');
    })
    .join('\n');
};

const PLAN = 'plan melt M1\n  in A\n';

describe('a plan with nothing but the feed', () => {
  it('gets a whole charge for black sand: flux, carbon, crucible, mould, button and slag', () => {
    const text = textOf(`${lot('tarn-sand', 150, '  expect Au 11..16 %\n')}${PLAN}`, SHOP);
    expect(text).toMatch(
      /^melt M1\n {2}crucible C5\n {2}mould cone-1\n {2}in A\n {2}add borax-glass ~[\d.]+ g\n {2}add soda-ash ~[\d.]+ g\n {2}add silica ~[\d.]+ g\n {2}add charcoal ~[\d.]+ g\n {2}out ~[\d.]+ g button\n {2}out ~[\d.]+ g slag\n$/,
    );
    // Beringer's charge for roasted concentrate takes as much soda as ore; his fused borax its own weight of FeO.
    const iron = 0.86 * 150 * (0.5 * 0.931 + 0.1 * 0.9 + 0.15 * 0.474);
    expect(grams(text, 'borax-glass') / iron).toBeGreaterThan(0.5);
    expect(grams(text, 'borax-glass') / iron).toBeLessThan(1.2);
    expect(grams(text, 'soda-ash') / iron).toBeCloseTo(1, 0);
  });

  it('takes the recipe of the shop where its slag comes near, and no other', () => {
    const text = textOf(`${lot('tarn-sand', 150)}${PLAN}`, SHOP + RECIPES);
    expect(text).toMatch(/add shop-flux ~\d+ g/);
    expect(text).not.toMatch(/borax-glass|silver-mix/);
    expect(textOf(`${lot('quartz', 100)}${PLAN}`, SHOP + RECIPES)).not.toContain('shop-flux');
  });

  it('brings the slag of every known feed to a degree of about 1 to 2', () => {
    for (const feed of [
      'black-sand',
      'quartz',
      'iron-rust',
      'glass',
      'sweeps',
      'cement',
      'cement-bottoms',
      'fell-ore',
    ]) {
      const words = wordsOf(planned(`${lot(feed, 100)}${PLAN}`, SHOP));
      const degree = Number(/silicate degree ([\d.]+)/.exec(words)?.[1]);
      expect(degree, feed).toBeGreaterThanOrEqual(0.9);
      expect(degree, feed).toBeLessThanOrEqual(2.1);
    }
  });

  it('gives solid metal a cover, washed gold more, and expects nearly all of it back', () => {
    const scrap = textOf(`${lot('scrap', 100)}${PLAN}`);
    expect(grams(scrap, 'borax-glass')).toBeCloseTo(2, 1);
    expect(scrap).not.toContain('soda-ash');
    const placer = textOf(`${lot('placer-gold', 100)}${PLAN}`);
    expect(grams(placer, 'borax-glass')).toBeCloseTo(40 * 0.5276, 0);
    expect(Number(/out ~(\d+) g button/.exec(placer)?.[1])).toBeGreaterThan(90);
    expect(textOf(`${lot('lemel', 100)}${PLAN}`)).toMatch(/out ~8\d g button/);
  });

  it('brings the lead of cupel bottoms down and expects it in the button', () => {
    const text = textOf(`${lot('cupel-bottoms', 100)}${PLAN}`);
    // 44 g litharge hold 40.8 g lead; a gram of charcoal brings down 22.6 g (Beringer & Beringer 1904).
    expect(grams(text, 'charcoal')).toBeCloseTo(40.8 / 22.6, 1);
    expect(text).toMatch(/out ~41 g button/);
  });

  it('tells the ways for sulphides and plans no melt before one is chosen', () => {
    const plan = planned(`${lot('sulphide-concentrate', 100)}${PLAN}`, SHOP);
    expect(plan.written).toEqual([]);
    expect(wordsOf(plan)).toMatch(/Roast the feed dead first, or add .* of iron, or add|or .* of niter/);
    expect(labelsOf(`${lot('sulphide-concentrate', 100)}${PLAN}`, SHOP)).toContain(
      'sulphur: roast first, or iron, or niter',
    );
  });

  it('fills in the iron or niter that is asked for, and the flux for what is then left', () => {
    const iron = textOf(`${lot('sulphide-concentrate', 100)}${PLAN}  add iron-nails ?\n`);
    expect(iron).toMatch(/add iron-nails ~\d+ g\n {2}add litharge .*\n {2}add borax-glass .*\n {2}add soda-ash/);
    // All of the litharge comes down by the iron: 0.9 × feed of lead, none of it flux.
    expect(grams(iron, 'litharge')).toBeCloseTo((100 * 0.896) / 0.9283, -1);
    expect(iron).not.toContain('flour');
    expect(iron).toMatch(/out ~[\d.]+ g matte\n {2}out ~[\d.]+ g slag/);
    expect(textOf(`${lot('sulphide-concentrate', 100)}${PLAN}  add niter ?\n`)).toMatch(/add niter ~\d+ g/);
  });

  it('counts litharge that the sulphides bring down for no base, and says no more that nothing takes their sulphur', () => {
    const poor = `${lot('sulphide-concentrate', 250)}  expect Au 2 %\n`;
    const plan = planned(`${poor}${PLAN}  add iron ?\n`, SHOP);
    expect(plan.filled.text).toMatch(/add litharge ~\d+ g\n {2}add borax-glass .*\n {2}add soda-ash ~\d+ g/);
    expect(plan.filled.text).not.toContain('add silica');
    expect(wordsOf(plan)).toMatch(/silicate degree 1\.\d/);
    expect(wordsOf(plan)).not.toMatch(/nothing that takes their sulphur|PbO/);
  });

  it('knows what a roast left of them', () => {
    const page = `${lot('sulphide-concentrate', 100)}roast R1\n  in A\n  out B 75 g\nplan melt M1\n  in B\n`;
    const text = textOf(page);
    expect(said(pageWorkspace(page))).toEqual([]);
    expect(text).toMatch(/add borax-glass .*\n {2}add soda-ash/);
    // 75 g of feed are to give 67 g of lead; the iron of 70 g of ferric oxide is reduced first.
    expect(grams(text, 'flour') * 11.2).toBeGreaterThan(67 + 30);
  });

  it('says what must be known of a feed of unknown make, and invents nothing', () => {
    const page = `2026-06-01\nreceive A 61 g\n${PLAN}`;
    const plan = planned(page, SHOP);
    expect(plan.written).toEqual([]);
    expect(wordsOf(plan)).toContain('Say it where it came in');
    expect(said(pageWorkspace(page, SHOP))).toEqual([]);
  });

  it('wants mercury retorted first', () => {
    const plan = planned(`${lot('amalgam', 50)}${PLAN}`, SHOP);
    expect(plan.written).toEqual([]);
    expect(wordsOf(plan)).toContain('retort');
  });

  it('says the volume that is wanted where the workshop has none, and in how many charges where none is large enough', () => {
    const bare = labelsOf(`${lot('tarn-sand', 150)}${PLAN}`);
    expect(bare.join('\n')).not.toMatch(/crucible C/);
    expect(wordsOf(planned(`${lot('black-sand', 150)}${PLAN}`))).toMatch(
      /A crucible of \d+\.\.\d+ mL is wanted[\s\S]*A mould of \d+\.\.\d+ mL is wanted/,
    );
    expect(wordsOf(planned(`${lot('black-sand', 900)}${PLAN}`, SHOP))).toMatch(/or \d melts, \d charges each in C5/);
  });

  it('fills in amounts for the fluxes that stand there, and adds no other', () => {
    const text = textOf(`${lot('quartz', 50)}${PLAN}  add soda-ash ? g\n`);
    // Beringer takes 88.5 g soda for 50 g quartz at a bisilicate; 118 g make a sesquisilicate.
    expect(grams(text, 'soda-ash')).toBeGreaterThan(88.5);
    expect(grams(text, 'soda-ash')).toBeLessThan(118);
    expect(text).not.toContain('borax');
    const both = textOf(
      `${lot('iron-rust', 50)}${PLAN}  add borax-decahydrate ?\n  add bicarbonate ?\n  add glass ?\n`,
    );
    for (const name of ['borax-decahydrate', 'bicarbonate', 'glass']) expect(grams(both, name)).toBeGreaterThan(1);
  });
});

describe('worked charges', () => {
  // 50 g quartz ore, 100 bicarbonate, 75 litharge, 10 borax, 4 flour: Beringer & Beringer, A Text-book of Assaying, 1904.
  const QUARTZ = `${lot('quartz', 50)}plan melt M1\n  in A\n  add bicarbonate 100 g\n  add litharge 75 g\n  add borax-decahydrate 10 g\n`;

  it('holds a quartz charge of a text-book for sound: a degree of about 2.3, a button of about 45 g', () => {
    const plan = planned(`${QUARTZ}  add flour 4 g\n`);
    const words = wordsOf(plan);
    const [, low, high] = /lead button of (\d+)\.\.(\d+) g/.exec(words)!;
    expect([Number(low), Number(high)]).toEqual([40, 48]);
    expect(Number(/silicate degree ([\d.]+)/.exec(words)?.[1])).toBeCloseTo(2.3, 0);
    expect(said(pageWorkspace(`${QUARTZ}  add flour 4 g\n`))).toEqual([]);
  });

  it('finds the flour for it', () => {
    expect(grams(textOf(QUARTZ), 'flour')).toBeCloseTo(4, 0);
    // Charcoal is twice as strong: 22.6 g lead a gram against 11.2 g.
    expect(grams(textOf(`${QUARTZ}  add charcoal ?\n`), 'charcoal')).toBeCloseTo(2, 0);
  });

  // 50 g Fe2O3, 10 quartz, 30 borax, 30 soda, 50 litharge, 7 flour: Beringer & Beringer 1904.
  it('holds an iron charge of a text-book for sound', () => {
    const page = `${lot('iron-rust', 50)}melt M1\n  in A\n  add silica 10 g\n  add borax-decahydrate 30 g\n  add soda-ash 30 g\n  add litharge 50 g\n  add flour 7 g\n`;
    expect(findingsOf(pageWorkspace(page), FILE).filter(({ code }) => RULES.includes(code))).toEqual([]);
    expect(doneWords(page)).toMatch(/lead button of [\d.]+ g/);
  });

  // 88.5 g soda for 50 g quartz make Na2SiO3, a bisilicate: Beringer & Beringer 1904.
  it('calls sodium silicate a bisilicate and expects its weight', () => {
    const page = `${lot('quartz', 50)}melt M1\n  in A\n  add soda-ash 88.5 g\n  out S 101 g slag\n`;
    expect(doneWords(page)).toContain('The slag is a bisilicate');
    expect(said(pageWorkspace(page))).toEqual([]);
  });
});

describe('a melt that is done', () => {
  const labels = (page: string): string => labelsOf(page, SHOP).join('\n');

  it('is quiet where nothing is amiss', () => {
    const page = `${lot('black-sand', 100)}melt M1, crucible C5\n  in A\n  add borax-glass 60 g\n  add soda-ash 60 g\n  add silica 20 g\n  out S 215 g slag\n`;
    expect(said(pageWorkspace(page, SHOP))).toEqual([]);
    expect(labels(page)).not.toMatch(/slag|degree|mould/);
    expect(doneWords(page, SHOP)).toMatch(/slag expected .*\nslag written/);
  });

  it('is held against what it was melted with only where its make is known', () => {
    const feeds = ['2026-06-01\nreceive A 50 g\n', lot('sweeps', 50), lot('black-sand', 50)];
    for (const feed of feeds) {
      const page = `${feed}melt M1\n  in A\n  add soda-ash 30 g\n  out S 70 g slag\n`;
      const codes = findingsOf(pageWorkspace(page), FILE).map(({ code }) => code);
      expect(codes.filter((code) => RULES.includes(code))).toEqual([]);
    }
  });

  it('is told what to add to an acid slag and to a basic one', () => {
    const says = (rest: string) =>
      findingsOf(pageWorkspace(`${lot('quartz', 50)}melt M1\n  in A\n${rest}`), FILE).map((one) => one.says);
    // For a sesquisilicate 50 g quartz at 95 % wants 111.7 g soda ash: 60.083 and 105.99 g/mol.
    expect(says('  add soda-ash 30 g\n  out S 67 g slag\n')[0]).toMatch(/too acid .* Add about (79|8\d) g of soda ash/);
    expect(says('  add soda-ash 300 g\n  out S 300 g slag\n')[0]).toMatch(/too basic .* of silica/);
  });

  it('is not told of a mould that is full to its brim, but of one that runs over', () => {
    const pour = (grams: number) =>
      said(pageWorkspace(`${lot('silver', grams)}melt M1, mould bar-2\n  in A\n  out B ${grams}.00 g bar\n`, SHOP));
    // 9.3 g/mL molten: 340 g take 36.6 mL of 40, 400 g 43 mL.
    expect(pour(330)).toEqual([]);
    expect(pour(420)).toEqual(['mould-too-small at "bar-2"']);
  });

  it('that makes matte on purpose is left alone', () => {
    const page = `${lot('sulphide-concentrate', 50)}melt M1\n  in A\n  add borax-glass 30 g\n  out 30 g matte\n  out S 45 g slag\n`;
    expect(findingsOf(pageWorkspace(page), FILE).filter(({ code }) => RULES.includes(code))).toEqual([]);
  });
});

describe('a plan written in', () => {
  it('leaves nothing to write in, and none of its rules has a word', () => {
    const feed = fc.constantFrom(
      'black-sand',
      'tarn-sand',
      'fell-ore',
      'quartz',
      'placer-gold',
      'scrap',
      'lemel',
      'sweeps',
      'cupel-bottoms',
      'cement-bottoms',
      'iron-rust',
      'glass',
      'gold',
    );
    const shop = fc.constantFrom(SHOP, SHOP + RECIPES, 'shop:\n  name: Tarn End\n');
    const expected = fc.constantFrom('', '  expect Au 5 %\n', '  expect Au 11..16 %\n', '  expect Au 60 %, Ag 20 %\n');
    fc.assert(
      fc.property(feed, fc.integer({ min: 2, max: 900 }), shop, expected, (name, size, workshop, says) => {
        fc.pre(workshop.includes('tarn-sand') || !['tarn-sand', 'fell-ore'].includes(name));
        const page = `${lot(name, size, says)}${PLAN}`;
        const plan = planned(page, workshop);
        const whole = page.replace(PLAN, `plan ${plan.filled.text}`);
        const workspace = pageWorkspace(whole, workshop);
        const again = planOf(workspace, plansOn(workspace, FILE)[0]!)!;
        expect(again.written).toEqual([]);
        const codes = findingsOf(workspace, FILE).map(({ code }) => code);
        expect(codes.filter((code) => [...RULES, 'crucible-overfull'].includes(code))).toEqual([]);
      }),
      { numRuns: 25 },
    );
  }, 120_000);
});

describe('gas of a charge', () => {
  // V = nRT/P: 100 g soda ash give 0.94 mol, 106 L at 1100 °C.
  it('is told in litres at the heat of the pour', () => {
    const page = `${lot('quartz', 100)}melt M1, crucible C5\n  in A\n  add soda-ash 100 g\n  10:40 poured 1100 °C into cone-1\n  out S 154 g slag\n`;
    const tooltips = hintsOf(pageWorkspace(page, SHOP), FILE).map(({ tooltip }) => tooltip());
    expect(tooltips.join('\n')).toMatch(/soda-ash +100 g × 0\.4152 CO2 = 42 g, 0\.94 mol, 110 L at 1100 °C/);
    expect(tooltips.join('\n')).toMatch(
      /Its gas takes 110 L at 1100 °C, about \d+ times its room cold\. .*(slowly|gas)/,
    );
  });

  it('in lines that come to the sum', () => {
    const words = wordsOf(planned(`${lot('sweeps', 400)}  expect Au 3 %, Ag 2 %\n${PLAN}`, SHOP));
    const [gas] = /The charge gives off[\s\S]*?in all +[\d.]+ mol/.exec(words)!;
    const moles = [...gas.matchAll(/([\d.]+) mol/g)].map(([, each]) => Number(each));
    const all = moles.pop()!;
    expect(gas).toContain('others');
    expect(Math.abs(moles.reduce((so, each) => so + each, 0) - all)).toBeLessThan(0.1);
  });
});

describe('a collector', () => {
  // Beringer & Beringer 1904: 50 g of quartz ore with 75 g litharge and 4 g flour.
  it('is written in for a feed with next to no gold: litharge, and flour that brings half of it down', () => {
    const text = textOf(`${lot('quartz', 50, '  expect Au 40 g/t\n')}${PLAN}`, SHOP);
    expect(text).toMatch(/^ {2}add litharge ~75 g$/m);
    expect(text).toMatch(/^ {2}add flour ~4\.0 g$/m);
    expect(text).toMatch(/^ {2}out ~4\d g button$/m);
  });

  it('is left to the melter where fluxes are weighed in, or one is named, or gold is plenty', () => {
    const poor = lot('quartz', 50, '  expect Au 40 g/t\n');
    expect(textOf(`${poor}${PLAN}  add borax-glass 20 g\n`, SHOP)).not.toContain('litharge');
    expect(labelsOf(`${poor}${PLAN}  add borax-glass 20 g\n`, SHOP).join()).toContain('collector');
    expect(textOf(`${poor}${PLAN}  add silver 2 g\n`, SHOP)).not.toContain('litharge');
    expect(textOf(`${lot('black-sand', 50, '  expect Au 14 %\n')}${PLAN}`, SHOP)).not.toContain('litharge');
  });

  it('is written in where nobody knows how much gold there is', () => {
    const text = textOf(`${lot('quartz', 50)}${PLAN}`, SHOP);
    expect(text).toMatch(/^ {2}add litharge ~75 g$/m);
    expect(text).toMatch(/^ {2}out ~4\d g button$/m);
    expect(textOf(`${lot('glass', 50)}${PLAN}`, SHOP)).not.toContain('litharge');
  });

  it('is reckoned where the plan names it and leaves its weight out', () => {
    const page = (name: string): string => `${lot('black-sand', 200, '  expect Au 0.5 %\n')}${PLAN}  add ${name} ?\n`;
    expect(grams(textOf(page('silver'), SHOP), 'silver')).toBe(4);
    expect(grams(textOf(page('copper'), SHOP), 'copper')).toBe(4);
    expect(grams(textOf(page('lead'), SHOP), 'lead')).toBeCloseTo(0.896 * 200, -1);
    // 300 g of litharge and 310 g of red lead hold the same lead.
    expect(grams(textOf(page('red-lead'), SHOP), 'red-lead')).toBeCloseTo((300 * 0.9283) / 0.9066, -1);
    // Ten grams of gold: two and a half times as much silver.
    const rich = `${lot('black-sand', 400, '  expect Au 2.5 %\n')}${PLAN}  add silver ?\n`;
    expect(grams(textOf(rich, SHOP), 'silver')).toBe(25);
  });

  it('that is named is reckoned though gold is plenty', () => {
    const page = `${lot('black-sand', 100, '  expect Au 12 %\n')}${PLAN}  add litharge ?\n`;
    expect(grams(textOf(page, SHOP), 'litharge')).toBe(150);
    expect(wordsOf(planned(page, SHOP))).toContain('which needs no collector');
  });

  it('is chosen by a fix that names another, whose weight is then reckoned', () => {
    const page = `${lot('quartz', 50)}${PLAN}`;
    const workspace = pageWorkspace(page, SHOP);
    const at = page.indexOf('plan');
    const actions = planActionsAt(workspace, FILE, { start: at, end: at });
    expect(actions.map(({ title }) => title).slice(2)).toEqual(['Collect with lead', 'Collect with silver']);
    const [edit] = actions.at(-1)!.edits;
    const chosen = page.slice(0, edit!.start) + edit!.text + page.slice(edit!.end);
    expect(chosen).toBe(`${page}  add silver ?\n`);
    expect(textOf(chosen, SHOP)).toMatch(/^ {2}add silver ~1\.0+ g$/m);
    expect(textOf(chosen, SHOP)).not.toContain('litharge');
  });

  // Beringer: ores are assayed with litharge in excess, and what they bring down of lead by themselves is counted.
  it('of litharge burns a little sulphide, which brings down a part of the button', () => {
    const own = `${SHOP}  gill-ore: { composition: { SiO2: 85 %, FeS2: 3 % }, bulk density: 1.5 g/mL }\n`;
    const plan = planned(`${lot('gill-ore', 50)}${PLAN}`, own);
    // 44.8 g of lead, of which 1.5 g of pyrite bring down 16.5 g: flour for the rest.
    expect(grams(plan.filled.text, 'flour')).toBeCloseTo((44.8 - 16.5) / 11.2, 1);
    expect(wordsOf(plan)).not.toContain('nothing that takes their sulphur');
  });

  it('stands before the flux is told, so that its slag is as good as that of a charge that was written at once', () => {
    const plan = planned(`${lot('fell-ore', 200)}${PLAN}`, `${SHOP}${RECIPES}`);
    expect(plan.advice.flatMap(({ wrong = [] }) => wrong)).toEqual([]);
    expect(wordsOf(plan)).toMatch(/silicate degree 1\.\d/);
  });

  it('that is lead is enough lead for the cupel', () => {
    const page = `${lot('quartz', 50, '  expect Au 40 g/t\n')}${PLAN}`;
    const next = `${page}  out B button\n\nplan cupel K1\n  in B\n`;
    const workspace = pageWorkspace(next, SHOP);
    const [, cupel] = plansOn(workspace, FILE);
    expect(planOf(workspace, cupel!)!.filled.text).not.toContain('add lead');
  });
});

describe('a line of a plan that asks for its weight', () => {
  const page = (name: string): string => `${lot('black-sand', 100, '  expect Au 12 %\n')}${PLAN}  add ${name} ?\n`;

  it('gets none where the charge wants none of it, and the flux that it does want', () => {
    const text = textOf(page('soda-ash'), `${SHOP}${RECIPES}`);
    expect(text).toMatch(/^ {2}add soda-ash 0 g$/m);
    expect(text.match(/add shop-flux/g)).toHaveLength(1);
    expect(text).toMatch(/^ {2}out ~[\d.]+ g button$/m);
  });

  it.each(['fluorspar', 'boric-acid', 'niter', 'lime'])(
    'says of %s that it is not reckoned, and writes nothing twice',
    (name) => {
      expect(labelsOf(page(name), `${SHOP}${RECIPES}`)).toContain('not reckoned: write how much');
      const text = textOf(page(name), `${SHOP}${RECIPES}`);
      expect(text).toContain(`add ${name} ?`);
      expect(text.match(/add shop-flux/g)).toHaveLength(1);
    },
  );

  it('is silent of it while the charge is not known', () => {
    expect(labelsOf(`2026-06-01\n${PLAN}  add fluorspar ?\n`, SHOP).join()).not.toContain('not reckoned');
  });
});
