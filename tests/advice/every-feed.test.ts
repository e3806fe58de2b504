/** A plan with only the weight and the kind of its feed, for every feed that the language knows and for a shop's own. */
import { describe, expect, it } from 'vitest';
import { answersWithNext } from '../../server/advice/next-step';
import type { Plan } from '../../server/advice/plans';
import { MATERIALS } from '../../server/vocabulary/materials';
import { planIn } from '../support/plan';
import { pageWorkspace } from '../support/workspace';

const SHOP = `crucibles:
  C4: 400 mL
  C9: 2500 mL
moulds:
  cone-2: 320 mL
  cone-5: 1200 mL
cupels:
  cement-9: { weight: 900 g, material: cement }
recipes:
  shop-flux:
    borax-glass: 5 parts
    soda-ash: 3 parts
    silica: 2 parts
materials:
  tarn-sand:
    from: black-sand
    moisture: 1.5 %
  fell-ore:
    composition: { SiO2: 60 %, CaO: 25 %, Fe2O3: 10 % }
    bulk density: 1.6 g/mL
  gill-ore:
    composition: { SiO2: 55 %, CaCO3: 25 %, Al2O3: 10 %, FeS2: 2 % }
    bulk density: 1.5 g/mL
`;

const planFor = (material: string): Plan =>
  planIn(pageWorkspace(`2026-06-22\n\nreceive X1 200.00 g\n  material ${material}\n\nplan melt M1\n  in X1\n`, SHOP));

const feeds = MATERIALS.filter(({ group }) => group === 'feed').map(({ name }) => name);

/** Told plainly what has to be done first, instead of a charge. */
const FIRST: ReadonlyMap<string, RegExp> = new Map([
  ['amalgam', /mercury in the feed: retort it off first/],
  ['sulphide-concentrate', /Roast the feed dead first, or add about \d+ g of niter .* of iron/],
]);

/** Gold and silver with next to no base metal: nothing to cupel. */
const NOBLE: ReadonlySet<string> = new Set(['placer-gold', 'silver-chloride']);

describe('a plan with only its feed', () => {
  it('is tried for every feed', () => {
    expect(feeds.length).toBeGreaterThan(9);
    expect([...FIRST.keys()].every((name) => feeds.includes(name))).toBe(true);
  });

  it.each([...feeds.filter((name) => !FIRST.has(name)), 'tarn-sand', 'fell-ore', 'gill-ore'])(
    'of %s gets flux, crucible, mould, products, and what its button wants to be cupelled',
    (name) => {
      const plan = planFor(name);
      const { text } = plan.filled;
      expect(text).toMatch(/^ {2}crucible C\d$/m);
      expect(text).toMatch(/^ {2}mould cone-\d$/m);
      expect(text).toMatch(/^ {2}add (shop-flux|soda-ash) ~[\d.]+ g$/m);
      expect(text).toMatch(/^ {2}out ~[\d.]+ g button$/m);
      expect(text).toMatch(/^ {2}out ~[\d.]+ g slag$/m);
      expect(plan.advice.flatMap(({ wrong = [] }) => wrong)).toEqual([]);
      const products = plan.written.filter(({ writing }) => 'part' in writing && writing.part === 'out');
      for (const { writing } of products) expect(writing.range).toMatch(/^(button|slag) [\d.]+(\.\.[\d.]+)? g$/);
      const next = answersWithNext(plan)
        .filter(({ topic }) => topic === 'next step')
        .map(({ working }) => working());
      if (NOBLE.has(name)) return expect(next).toEqual([]);
      expect(next.map(({ says }) => says)).toEqual([
        expect.stringMatching(/^Then, to cupel the button: (lead|the lead)/),
      ]);
      expect(next[0]!.todo).toMatch(/cupels?/);
    },
  );

  it.each([...FIRST])('of %s says plainly what comes first, and writes no charge', (name, words) => {
    const plan = planFor(name);
    expect(plan.written).toEqual([]);
    expect(answersWithNext(plan).some(({ working }) => words.test(working().says))).toBe(true);
  });

  it.each(['niter', 'iron'])('of sulphides gets its charge once %s is to take the sulphur', (taker) => {
    const page = `2026-06-22\n\nreceive X1 100.00 g\n  material sulphide-concentrate\n\nplan melt M1\n  in X1\n  add ${taker} ?\n`;
    const { text } = planIn(pageWorkspace(page, SHOP)).filled;
    for (const line of [`add ${taker} ~`, 'add soda-ash ~', 'crucible C', 'out ~'])
      expect(text).toContain(`\n  ${line}`);
  });

  it('of sulphides gets its charge behind a planned roast', () => {
    const page =
      '2026-06-22\n\nreceive X1 200.00 g\n  material sulphide-concentrate\n\nplan roast R1\n  in X1\n  out X1-roasted\n\nplan melt M1\n  in X1-roasted\n';
    const { text } = planIn(pageWorkspace(page, SHOP), 1).filled;
    for (const line of ['add litharge ~', 'add flour ~', 'add shop-flux ~', 'crucible C', 'mould cone', 'out ~'])
      expect(text).toContain(`\n  ${line}`);
  });
});
