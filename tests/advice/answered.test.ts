/** What a plan asks it is answered, and the answer is written in: a part of a lot for a target, gold to bring down, a vessel that nobody measured. */
import { describe, expect, it } from 'vitest';
import { planIn, wayOf, writtenIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const labels = (page: string, workshop?: string): string[] =>
  planIn(pageWorkspace(page, workshop)).advice.flatMap(({ label }) => label ?? []);

describe('a make that comes to the whole', () => {
  const page = '2026-06-01\nreceive B 100 g\n  expect Ag 92.5 %, Cu 7.5 %\nplan cupel K1\n  in B\n';

  it('has no gold where it names none: the bead is told', () => {
    expect(wayOf(page, 'missing')).toBe('');
    expect(wayOf(page, 'bead')).toMatch(/A finished bead weighs 8\d\.\.92 g/);
  });

  it('is silver for the heat too: no finish at 1150 °C', () => {
    expect(wayOf(page, 'cupel heat')).toMatch(/to finish +910 to 1000 °C/);
    const gold = page.replace('Ag 92.5 %, Cu 7.5 %', 'Au 92.5 %, Cu 7.5 %');
    expect(wayOf(gold, 'cupel heat')).toMatch(/to finish +910 to 1150 °C/);
  });

  it('stays not known where a part of it is open', () => {
    expect(wayOf(page.replace(', Cu 7.5 %', ''), 'missing')).toContain('so the bead is not told');
  });
});

describe('so much of a lot', () => {
  const page = (what: string): string => `2026-06-01
receive A 20.00 g
assay A by fire, corrected
  Au 58.50 %, Ag 20.00 %
receive B 30.00 g
assay B by fire, corrected
  Au 91.60 %, Ag 4.00 %
plan melt M1
  in A 20.00 g
  in ${what}
  expect Au 750 fine
`;

  it('is taken as brings the melt to its target, and written in', () => {
    // 20 g × (0.7500 − 0.5850)/(0.9160 − 0.7500) = 19.88 g
    expect(writtenIn(page('? g of B'))[0]).toBe('~19.88 g');
    expect(wayOf(page('? g of B'), 'part wanted')).toContain('20 g × (0.7500 − 0.5850)/(0.9160 − 0.7500)');
    const text = planIn(pageWorkspace(page('? g of B'))).filled.text;
    expect(text).toContain('  in ~19.88 g of B\n');
    // Nothing else is added to alloy it.
    expect(text).not.toMatch(/add (gold|silver|copper)/);
  });

  it('is not written where less is left of it, and that is said', () => {
    const little = page('? g of B').replace('receive B 30.00 g', 'receive B 10.00 g');
    expect(labels(little)).toContain('19.88 g wanted, too little left');
    expect(writtenIn(little)).toEqual([]);
  });

  it('without a target is asked for', () => {
    expect(labels(page('? g of B').replace('  expect Au 750 fine\n', ''))).toContain('weight not written');
  });
});

describe('gold in solution', () => {
  const page = (more = ''): string => `2026-06-01
receive B 20.00 g
assay B by fire
  Au 90.00 %, Ag 5.00 %
dissolve V1
  in B
  add hydrochloric-acid 90 mL
  add nitric-acid 20 mL
  out L 110 mL solution
  out R 1.3 g residue
plan drop D1
  in L
${more}`;

  it('is brought down with copperas, by the equation and up to half over', () => {
    const [copperas, gold, solution] = writtenIn(page());
    expect(copperas).toMatch(/^add copperas ~[89]\d g$/);
    expect(gold).toMatch(/^out ~1[78]\.?\d* g sponge dry$/);
    expect(solution).toMatch(/^out ~110 mL solution$/);
    // 3 × 278.01/196.97
    expect(wayOf(page(), 'gold back')).toMatch(/copperas +gold × 4\.234 × 1\.\.1\.5 = /);
    expect(wayOf(page(), 'missing')).toBe('');
  });

  it('is brought down with what is named instead', () => {
    expect(writtenIn(page('  add oxalic-acid ?\n'))[0]).toMatch(/^~2\d g$/);
    expect(wayOf(page('  add metabisulphite 4 g\n'), 'gold back')).toContain('metabisulphite');
  });

  it('is told where too little is written for it', () => {
    expect(said(pageWorkspace(page('  add copperas 20 g\n'))).join()).toContain('precipitant-short at "20 g"');
    expect(said(pageWorkspace(page('  add copperas 90 g\n'))).join()).not.toContain('precipitant-short');
  });

  it('that nobody knows is asked for as gold', () => {
    const unknown = '2026-06-01\nreceive L 1.0 L\nplan drop D1\n  in L\n  add copperas ?\n';
    expect(labels(unknown)).toContain('gold not known');
  });
});

describe('a vessel that nobody measured', () => {
  const page = (gear: string): string =>
    `2026-06-01\nreceive B 100 g\n  material black-sand\nplan melt M1\n  in B\n${gear}`;

  it('is told what is wanted, at its place', () => {
    expect(labels(page('  crucible C9\n  mould Q\n'))).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^crucible of 270\.\.450 mL wanted$/),
        expect.stringMatching(/^mould of [\d.]+ mL wanted$/),
      ]),
    );
    expect(wayOf(page('  crucible C9\n'), 'crucible')).toContain('the volume of C9 is not said');
  });

  it('is a cupel too', () => {
    const cupel = '2026-06-01\nreceive B 60 g\nplan cupel K1\n  in B\n  cupel-body Z9\n';
    expect(labels(cupel)).toContainEqual(expect.stringMatching(/^cupel ~\d+ g bone-ash wanted$/));
  });
});

describe('sulphide with niter alone', () => {
  it('gets a collector that niter leaves alone', () => {
    const page = '2026-06-01\nreceive B 200 g\n  material sulphide-concentrate\nplan melt M1\n  in B\n  add niter ?\n';
    expect(writtenIn(page)).toContain('add silver ~4.0 g');
    expect(writtenIn(page).join()).not.toContain('litharge');
    expect(writtenIn(page.replace('niter ?\n', 'niter ?\n  add litharge ?\n')).join()).not.toContain('silver');
  });
});
