/** Metal that leaves a melt as fume: zinc of brass, mercury of sponge. What it may take is no loss to look for. */
import { describe, expect, it } from 'vitest';
import { cautionsOf } from '../../server/advice/cautions';
import { planIn, wayOf } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const melted = (lot: string, out: string, more = ''): string =>
  `2026-06-01\n${lot}melt M1\n  in A 60.00 g\n${more}  out B ${out} g button\n`;
const BRASS = 'receive A 60.00 g\n  expect Cu 60 %, Zn 40 %\n';
const alarms = (page: string): string[] =>
  said(pageWorkspace(page)).filter((one) => /loss-above-usual|metal-missing/.test(one));

describe('zinc that is known of a lot', () => {
  it.each(['', '  add borax-glass 1.20 g\n', '  add borax-glass 1.20 g\n  out S 1.2 g slag\n'])(
    'may leave as fume to a quarter, whatever flux goes with it',
    (flux) => {
      expect(alarms(melted(BRASS, '58.50', flux))).toEqual([]);
      // 6 g of zinc at most, and what any metal loses.
      expect(alarms(melted(BRASS, '52.00', flux))).toHaveLength(1);
    },
  );

  it('is known by an assay too, also one that is written later', () => {
    const assayed = 'receive A 60.00 g\nassay A by xrf\n  Cu 60 %, Zn 40 %\n';
    expect(alarms(melted(assayed, '58.50'))).toEqual([]);
    expect(alarms(melted('receive A 60.00 g\n  expect Cu 95 %\n', '58.50'))).toHaveLength(1);
  });

  it('widens the button of a plan downward, and says why', () => {
    const way = wayOf(`2026-06-01\n${BRASS}plan melt M1\n  in A\n`, 'products');
    expect(way).toContain('a button of 60 g (54..60)');
    expect(way).toContain('up to a quarter of zinc and cadmium leaves as fume');
  });
});

describe('sponge', () => {
  const page = `2026-06-01
receive A 40.00 g
  material amalgam
retort T1
  in A 40.00 g
  out S 17.20 g sponge

2026-06-02
plan melt M1
  in S
`;

  it('of a retort sets off a caution of its own when it is melted', () => {
    const codes = cautionsOf(planIn(pageWorkspace(page)).job).map(({ code }) => code);
    expect(codes).toContain('mercury-left');
    expect(codes).not.toContain('mercury-first');
  });

  it('loses in the melt what sponge usually loses', () => {
    const done = page.replace('plan melt', 'melt').concat('  add borax-glass 0.34 g\n  out B 16.50 g button\n');
    expect(alarms(done)).toEqual([]);
    expect(alarms(done.replace('16.50', '15.00'))).toHaveLength(1);
    expect(wayOf(page, 'expected loss')).toMatch(/7\.0 % of what goes in|up to 1\.2 g/);
  });
});
