/** Cautions: what sets them off, where they stand, and that they permit nothing. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cautionsAt, cautionWorking } from '../../server/advice/cautions';
import { EXPOSURE_LIMITS, limitsOf } from '../../server/engine/bench/exposure';
import { CAUTIONS, caution, DEFERS } from '../../server/engine/bench/hazards';
import { type HintFamily, hintsOf } from '../../server/features/hints';
import { HINT_FAMILIES } from '../../server/lsp/settings';
import { pageWorkspace, said, workspaceOf } from '../support/workspace';

const FILE = 'page.melt';

const codes = (page: string, workshop?: string): string[] => {
  const workspace = pageWorkspace(`2026-06-01\n${page}`, workshop);
  return workspace.pages.get(FILE)!.entries.flatMap((entry) => cautionsAt(workspace, entry).map(({ code }) => code));
};

// CDC page on lead limits: 400 µg/m³ over the hours of the shift.
it('tells the limit of lead over a longer shift', () => {
  expect(cautionWorking(caution('lead-fume')!).rows).toContain(
    'lead: OSHA PEL over 10 h 0.040 mg/m3, 400 over the hours of the shift (CDC page on lead limits)',
  );
});

describe('a caution is set off', () => {
  it.each([
    ['by the verb', 'receive A 10 g\ncupel K1\n  in A\n', 'lead-fume'],
    ['by what is added', 'receive A 10 g\nmelt M1\n  in A\n  add litharge 30 g\n', 'lead-fume'],
    ['by what a lot is', 'receive A 10 g\n  material placer-gold\nmelt M1\n  in A\n', 'mercury-first'],
    ['by what a lot is said to hold', 'receive A 10 g\n  expect Zn 20 %\nmelt M1\n  in A\n', 'zinc-fume'],
    ['by a lot of brass', 'receive A 10 g\n  material brass\nmelt M1\n  in A\n', 'zinc-fume'],
    ['by solder that may hold it', 'receive A 10 g\n  material silver-solder\nmelt M1\n  in A\n', 'cadmium'],
    ['by wax in filings', 'receive A 10 g\n  material lemel\nmelt M1\n  in A\n  add niter 1 g\n', 'niter-deflagrates'],
    ['by an assay', 'receive A 10 g\nassay A by xrf\n  Cd 3 %\nmelt M1\n  in A\n', 'cadmium'],
    ['by a remark where it came in', 'receive A 10 g\n  note brass findings among it\nmelt M1\n  in A\n', 'zinc-fume'],
    [
      'by two things together',
      'receive A 10 g\nmelt M1\n  in A\n  add niter 5 g\n  add flour 2 g\n',
      'niter-deflagrates',
    ],
    [
      'by what a solution holds',
      'receive A 100 g\nassay A by fire\n  Ag 90.0 %\ndissolve V1\n  in A\n  add nitric-acid 150 mL\n  out L 1 L solution\ndrop R1\n  in L\n  add ammonia 10 mL\n',
      'fulminating-silver',
    ],
    [
      'by ammonia to a solution that nobody assayed',
      'receive L 1 L\ndrop R1\n  in L\n  add ammonia 10 mL\n',
      'fulminating-silver',
    ],
    ['by acid', 'receive A 10 g\npart P1\n  in A\n  add nitric-acid 50 mL\n', 'nitrous-fume'],
  ])('%s', (_, page, code) => {
    expect(codes(page)).toContain(code);
  });

  it('by a part of a recipe', () => {
    const recipe = 'recipes:\n  hot-flux:\n    borax-glass: 2 parts\n    litharge: 1 part\n';
    expect(codes('receive A 10 g\nmelt M1\n  in A\n  add hot-flux 30 g\n', recipe)).toContain('lead-fume');
  });

  it('by a furnace that burns gas', () => {
    const page = 'receive A 10 g\nmelt M1, furnace G1\n  in A\n';
    expect(codes(page, 'furnaces:\n  G1:\n    heating: gas\n')).toContain('carbon-monoxide');
    expect(codes(page, 'furnaces:\n  G1:\n    heating: resistance\n')).not.toContain('carbon-monoxide');
  });

  it('by nothing that is only weighed', () => {
    expect(codes('receive A 10 g\n  material placer-gold\nweigh A 10 g\nsplit Y1\n  in A\n  out B 5 g\n')).toEqual([]);
  });
});

describe('a caution stands', () => {
  const labels = (page: string, families: ReadonlySet<HintFamily> = new Set(['caution'])) =>
    hintsOf(pageWorkspace(page), FILE, undefined, families).filter(({ tooltip }) => tooltip().includes('Caution, '));
  const TWO =
    '2026-06-01\nreceive A 10.0 g\nreceive B 10.0 g\ncupel K1\n  in A\ncupel K2\n  in B\n\n2026-06-02\nreceive C 10.0 g\ncupel K3\n  in C\n';

  it('once a day of a kind, on the first line', () => {
    const found = labels(TWO);
    expect(found.map(({ entry }) => entry.name?.name)).toEqual(['K1', 'K3']);
    expect(found[0]!.label).toBe('caution: lead fume, water under metal');
  });

  it('once a day over all pages', () => {
    const [first, second] = [
      TWO.slice(0, TWO.indexOf('cupel K2')),
      `2026-06-01\n${TWO.slice(TWO.indexOf('cupel K2'))}`,
    ];
    const workspace = workspaceOf({ 'a.melt': first, 'b.melt': second });
    const told = (file: string) =>
      hintsOf(workspace, file)
        .filter(({ tooltip }) => tooltip().includes('Caution, '))
        .map(({ entry }) => entry.name?.name);
    expect(told('a.melt')).toEqual(['K1']);
    expect(told('b.melt')).toEqual(['K3']);
  });

  it('in every plan, whatever was said that day', () => {
    const page = TWO.replace('cupel K2\n  in B', 'plan cupel K2\n  in B');
    const plan = hintsOf(pageWorkspace(page), FILE).find(({ entry }) => entry.name?.name === 'K2');
    expect(plan!.tooltip()).toContain('Lead and litharge fume');
  });

  it('with its published limits in the tooltip', () => {
    const [first] = labels(TWO);
    expect(first!.tooltip()).toContain('lead: OSHA PEL 0.05 mg/m3 (NIOSH Pocket Guide)');
    expect(first!.tooltip()).toContain('local codes and licensed practice come first');
  });

  it('where there is room on its line, else in its tooltip', () => {
    const [full] = hintsOf(pageWorkspace(TWO.replaceAll('  in A\n', '  in A\n  out A1 9.0 g bead\n')), FILE).filter(
      ({ entry }) => entry.name?.name === 'K1',
    );
    expect(full!.label).not.toContain('caution');
    expect(full!.tooltip()).toContain('**caution: lead fume');
  });

  it('unless it is folded', () => {
    expect(labels(TWO, new Set(HINT_FAMILIES.filter((family) => family !== 'caution')))).toEqual([]);
  });
});

describe('the words of cautions', () => {
  it.each(CAUTIONS.map((one) => [one.code, one] as const))(
    '%s: limits are published, and nothing is permitted',
    (_, one) => {
      for (const substance of one.limits) expect(limitsOf(substance).length, substance).toBeGreaterThan(0);
      const { says, todo } = cautionWorking(one);
      expect(todo).toContain(DEFERS);
      expect(says).not.toMatch(/\b(safe|allowed|permitted|you may|is fine|is ok)\b/i);
    },
  );
});

describe('the published limits', () => {
  const readme = readFileSync(resolve(__dirname, '../../README.md'), 'utf8').split('\n');
  it.each(EXPOSURE_LIMITS)('of $substance, $kind, stand in the README with their source', (one) => {
    const row = readme.find((line) => line.startsWith(`| ${one.substance} |`));
    expect(row).toContain(`${one.kind} ${one.value} ${one.unit} (${one.source})`);
  });
});

describe('amalgam', () => {
  it('to the fire is a finding, whatever the fire', () => {
    for (const verb of ['melt', 'cupel', 'dry', 'cast']) {
      const page = `2026-06-01\nreceive A 60.0 g\n  material amalgam\n${verb} X1\n  in A\n`;
      expect(said(pageWorkspace(page)), verb).toContain('mercury-to-fire at "A"');
    }
  });

  it('to the retort is what should be done', () => {
    const page = '2026-06-01\nreceive A 60.0 g\n  material amalgam\nretort T1\n  in A\n  out B 24.0 g sponge\n';
    expect(said(pageWorkspace(page))).toEqual([]);
    expect(caution('mercury-first')).toBeDefined();
  });

  it('in a plan is told before the fire is lit', () => {
    const page = '2026-06-01\nreceive A 60.0 g\n  material amalgam\nplan melt M1\n  in A\n';
    expect(said(pageWorkspace(page))).toContain('mercury-to-fire at "A"');
  });

  it('is not said of placer gold that nothing says holds mercury', () => {
    const page = '2026-06-01\nreceive A 60.0 g\n  material placer-gold\nmelt M1\n  in A\n  out B 59.0 g button\n';
    expect(said(pageWorkspace(page))).toEqual([]);
  });
});
