/** Pours against the liquidus, furnaces against the heat and the clock. */
import { describe, expect, it } from 'vitest';
import { equalEnergy } from '../../server/engine/bench/equal-energy';
import { liquidusBetween, meltingRangeNear, threeMoles } from '../../server/engine/bench/liquidus';
import { hintsOf } from '../../server/features/hints';
import { hoverAt } from '../../server/features/hover';
import { findingsOf } from '../../server/rules/findings';
import { wayOf } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';

const cast = (material: string, lines: string, grams = '100.00'): string =>
  `2026-06-01\nreceive A ${grams} g\n  material ${material}\ncast C1, furnace F1\n  in A\n${lines}`;

const FURNACE = 'furnaces:\n  F1:\n    power: 3 kW\n    highest: 1250 °C\n';

describe('a pour', () => {
  it.each([
    // Fine silver melts at 961.8 °C (ITS-90) and is cast at 1050 to 1060 °C (a jewellery forum).
    ['silver', 1055, []],
    ['silver', 940, ['pour-too-cold at "10:20 poured 940 °C"']],
    ['silver', 1240, ['pour-too-hot at "10:20 poured 1240 °C"']],
    // Fine gold melts at 1064.2 °C (ITS-90) and is cast at 1160 to 1170 °C (the same).
    ['gold', 1165, []],
    ['gold', 1040, ['pour-too-cold at "10:20 poured 1040 °C"']],
  ])('of %s at %d °C', (material, celsius, found) => {
    const page = cast(material, `  10:20 poured ${celsius} °C\n  out B 99.97 g bar\n`);
    expect(said(pageWorkspace(page, FURNACE))).toEqual(found);
  });

  it('knows a temperature in °F', () => {
    const page = cast('silver', '  10:20 poured 1700 °F\n  out B 99.97 g bar\n');
    expect(said(pageWorkspace(page, FURNACE))).toEqual(['pour-too-cold at "10:20 poured 1700 °F"']);
  });

  it('near its liquidus is a doubt, and no finding', () => {
    const workspace = pageWorkspace(cast('sterling', '  10:20 poured 890 °C\n  out B 99.97 g bar\n'), FURNACE);
    expect(said(workspace)).toEqual([]);
    expect(hintsOf(workspace, FILE).map(({ label }) => label)).toContainEqual(
      expect.stringMatching(/^hardly molten: liquidus \d+\.\.\d+ °C$/),
    );
  });

  it('of gold 999 fine is held against its melting point: there the formula has no error', () => {
    const page = `2026-06-01\nreceive A 50.00 g\nassay A by fire\n  Au 999 fine\n\ncast C1\n  in A\n  10:20 poured 1050 °C\n  out B 49.99 g bar\n`;
    expect(said(pageWorkspace(page, FURNACE))).toEqual(['pour-too-cold at "10:20 poured 1050 °C"']);
  });

  it('of an alloy that is not known well enough is not judged', () => {
    const page =
      '2026-06-01\nreceive A 50.0 g\n  expect Au 20..80 %, Ag 10..60 %\ncast C1\n  in A\n  10:20 poured 600 °C\n  out B 49.9 g bar\n';
    expect(said(pageWorkspace(page))).toEqual([]);
  });

  it('of an alloy with some that nobody named is a doubt, and no finding: it may be lead', () => {
    const page =
      '2026-06-01\nreceive A 50.00 g\nassay A by fire\n  Au 60.0 %, Ag 37.0 %\n\ncast C1\n  in A\n  10:20 poured 940 °C\n  out B 49.9 g bar\n';
    expect(said(pageWorkspace(page))).toEqual([]);
    const markdown = hoverAt(pageWorkspace(page), FILE, page.indexOf('poured') + 1)!.markdown;
    expect(markdown).toContain('3 % of it nobody named: from none of it to all of it copper');
    const named = page.replace('Ag 37.0 %', 'Ag 40.0 %');
    expect(said(pageWorkspace(named))).toEqual(['pour-too-cold at "10:20 poured 940 °C"']);
  });

  it('says on its line how far above the liquidus it stood, to be followed by hand', () => {
    const page = cast('silver', '  10:20 poured 1055 °C\n  out B 99.97 g bar\n');
    const markdown = hoverAt(pageWorkspace(page, FURNACE), FILE, page.indexOf('poured') + 1)!.markdown;
    expect(markdown).toContain('93 K above the liquidus');
    expect(markdown).toContain('liquidus          962 °C');
    expect(markdown).toContain('casting ranges on a jewellery forum');
  });
});

describe('a furnace', () => {
  it('is not hotter than the workshop file says', () => {
    const page = cast('silver', '  10:20 poured 1260 °C\n  out B 99.97 g bar\n');
    expect(said(pageWorkspace(page, FURNACE))).toContain('beyond-furnace at "10:20 poured 1260 °C"');
  });

  it('that never melts what is planned is told of', () => {
    const low = FURNACE.replace('1250', '1000');
    expect(said(pageWorkspace(cast('gold', '  out B ? bar\n').replace('cast', 'plan cast'), low))).toEqual([
      'beyond-furnace at "F1"',
    ]);
  });

  // 100 g of silver from 20 °C to 100 K above melting take 38.2 kJ (unary data of Dinsdale, SGTE): 13 s in 3 kW.
  it('needs its least time, which is energy over power', () => {
    const page = cast('silver', '  10:00 charged\n  10:20 poured 1062 °C\n  out B 99.97 g bar\n');
    const markdown = hoverAt(pageWorkspace(page, FURNACE), FILE, page.indexOf('charged') + 1)!.markdown;
    expect(markdown).toContain('at least 12 s in F1');
    expect(markdown).toContain('by the clock      20 min, from 10:00 to 10:20');
  });

  it('quicker than that is a doubt of clock or furnace', () => {
    const page = cast('silver', '  10:00 charged\n  10:01 poured 1062 °C\n  out B 1999.6 g bar\n', '2000.0');
    const [found] = findingsOf(pageWorkspace(page, FURNACE), FILE);
    expect(found?.code).toBe('too-quick');
    expect(found?.says).toContain('F1 needs at least 4.');
    const slow = page.replace('10:01', '10:31');
    expect(said(pageWorkspace(slow, FURNACE))).toEqual([]);
  });

  it('of a plan says where to pour and how long it takes at least', () => {
    const page = cast('silver', '  out B ? bar\n').replace('cast', 'plan cast');
    const labels = hintsOf(pageWorkspace(page, FURNACE), FILE)
      .map(({ label }) => label)
      .join(' ');
    const tooltip = hintsOf(pageWorkspace(page, FURNACE), FILE)
      .map((hint) => hint.tooltip())
      .join('\n');
    expect(tooltip).toContain('usually poured at 1030 to 1065 °C');
    expect(`${labels} ${tooltip}`).toContain('at least 12 s');
  });
});

describe('the liquidus of an alloy', () => {
  const poured = (make: string): string =>
    wayOf(`2026-06-01\nreceive B 100 g\nassay B by fire, corrected\n  ${make}\nplan cast C1\n  in B\n`, 'pour');

  it('is shown between the two compositions beside it, and can be followed', () => {
    expect(poured('Au 75.00 %, Ag 12.50 %, Cu 12.50 %')).toMatch(
      /at Au 70 % +878 °C.*\n.*at Au 80 % +925 °C\n.*878 \+ \(925 − 878\) × \(75 − 70\)\/\(80 − 70\) = 901 °C by a straight line; .* gives 900 °C/,
    );
    expect(poured('Ag 92.50 %, Cu 7.50 %')).toMatch(/at Ag 90 %.*\n.*at Ag 95 %/);
  });

  it('ends at the melting point of the pure metal', () => {
    // Silver melts at 961.78 °C (ITS-90).
    expect(poured('Ag 97.00 %, Cu 3.00 %')).toMatch(/at Ag 100 % +962 °C/);
    expect(poured('Ag 100.00 %')).not.toContain('straight line');
  });

  it('is never far from the straight line', () => {
    for (let gold = 0; gold <= 95; gold += 7)
      for (let silver = 0; silver <= 100 - gold; silver += 9) {
        const mass = new Map([
          ['Au', gold / 100],
          ['Ag', silver / 100],
          ['Cu', (100 - gold - silver) / 100],
        ]);
        const found = liquidusBetween(mass);
        if (!found) continue;
        const own = meltingRangeNear(mass).value!.liquidusCelsius.best;
        expect(Math.abs(found.lineCelsius - own), `${gold} ${silver}`).toBeLessThan(15);
      }
  });
});

describe('the way to a liquidus', () => {
  // Points that its error is stated by: NIST and Dinsdale for silver-copper, Rose for gold-silver, an alloy handbook as a page quotes it.
  it.each([
    [{ Au: 0.94, Ag: 0.06 }, 1060, 1060],
    [{ Au: 0.32, Ag: 0.68 }, 993, 993],
    [{ Ag: 0.7159, Cu: 0.2841 }, 779.1, 779.1],
    [{ Ag: 0.945, Cu: 0.055 }, 912.5, 912.5],
    [{ Au: 0.75, Ag: 0.15, Cu: 0.1 }, 895, 930],
  ])('of %j lies within 10 K of %d to %d °C', (alloy, low, high) => {
    const { best } = meltingRangeNear(new Map(Object.entries(alloy))).value!.liquidusCelsius;
    expect(best).toBeGreaterThanOrEqual(low - 10);
    expect(best).toBeLessThanOrEqual(high + 10);
  });

  it('is worked by hand between solidus and liquidus, for gold alloys', () => {
    for (const [gold, silver, copper] of [
      [0.75, 0.125, 0.125],
      [0.75, 0.16, 0.09],
      [0.75, 0.045, 0.205],
      [0.583, 0.104, 0.313],
      [0.917, 0.02, 0.063],
      [0.9, 0, 0.1],
    ] as const) {
      const alloy = new Map([
        ['Au', gold],
        ['Ag', silver],
        ['Cu', copper],
      ]);
      const { liquidusCelsius, solidusCelsius } = meltingRangeNear(alloy).value!;
      const { celsius } = equalEnergy(threeMoles(alloy));
      expect(celsius).toBeLessThanOrEqual(liquidusCelsius.best + 1);
      expect(liquidusCelsius.best - celsius).toBeLessThanOrEqual(25);
      if (solidusCelsius) expect(celsius).toBeGreaterThanOrEqual(solidusCelsius.best - 1);
    }
  });

  it('says its formula, its source and its error beside the figure', () => {
    const way = wayOf(
      '2026-06-01\nreceive A 61.0 g\nassay A by fire\n  Au 75.00 %, Ag 12.50 %, Cu 12.50 %\nplan cast C1\n  in A\n',
      'pour',
    );
    expect(way).toContain('mole fractions Au 0.549, Ag 0.167, Cu 0.284');
    expect(way).toContain('0.549 × 0.167 × 640 + 0.549 × 0.284 × (−6483) + 0.167 × 0.284 × (−12047) = −1523');
    expect(way).toContain('1166 K = 893 °C: the liquidus lies 0 to 25 K above it');
    expect(way).toContain('as NIST gives them (Dinsdale; Hayes and others 1986)');
    expect(way).toContain('the model lies within 10 K of published points');
    const silver = wayOf(
      '2026-06-01\nreceive A 61.0 g\nassay A by fire\n  Au 60.00 %, Ag 40.00 %\nplan cast C1\n  in A\n',
      'pour',
    );
    expect(silver).toContain('by hand           0.600 × 1064.2 + 0.400 × 961.8 = 1023 °C, good to 5 K');
  });
});
