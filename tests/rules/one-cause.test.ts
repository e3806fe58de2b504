/** One cause gives one finding, where the hand mends it; and figures that hang on a weight in doubt are marked. */
import { describe, expect, it } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { findingsOf } from '../../server/rules/findings';
import { fixed, pageWorkspace, textOf } from '../support/workspace';

const workspaceOf = (body: string) => pageWorkspace(`2026-07-01\n${body}`);
const found = (body: string): string[] => {
  const workspace = workspaceOf(body);
  return findingsOf(workspace, 'page.melt').map((finding) => `${finding.code} at ${textOf(workspace, finding)}`);
};
const says = (body: string): string[] => findingsOf(workspaceOf(body), 'page.melt').map((finding) => finding.says);
const labels = (body: string): string[] => hintsOf(workspaceOf(body), 'page.melt').map(({ label }) => label);

const CAST = 'receive A 20.00 g\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar\n';

describe('a lot used up twice', () => {
  it('proves nothing in the second step', () => {
    const page = `${CAST}receive X 10.00 g\ncast C2\n  in A 20.00 g\n  in X 10.00 g\n  out D 9.98 g bar`;
    expect(found(page)).toEqual(['lot-used-up at A']);
    expect(labels(page)).toContain('~20 g short, a weight is in doubt');
  });

  it('is said where it is taken again without a weight too', () => {
    expect(found(`${CAST}cast C2\n  in A\n  out D 19.96 g bar`)).toEqual(['lot-used-up at A']);
  });
});

describe('a wrong unit in a weighing', () => {
  const weighed = 'receive X 10.00 g\ncast C2\n  in X 10.00 g\n  out D 9.98 g bar\nweigh D 9.98 dwt\n';

  it('is found once where the next step weighs as before', () => {
    const page = `${weighed}cast C3\n  in D 9.98 g\n  out E 9.97 g bar`;
    expect(says(page)).toEqual([
      'D weighs 9.98 g in cast C2 and again in cast C3, but 9.98 dwt in weigh D: 5.54 g more, 520 times what weighing explains (±0.01 g). Likeliest: another unit, 9.98 g in weigh D.',
    ]);
    const workspace = workspaceOf(page);
    expect(fixed(workspace, findingsOf(workspace, 'page.melt')[0]!)).toContain('weigh D 9.98 g\n');
  });

  it('is found once where the next steps take the lot over as it is, and marks what they reckon', () => {
    const page = `${weighed}cast C3\n  in D\n  out E\ncast C4\n  in E 9.97 g\n  out F 9.96 g bar`;
    expect(found(page).filter((one) => !one.startsWith('product-not'))).toEqual(['weight-changed at 9.98 dwt']);
    expect(labels(page)).toContain('~16 g, carried');
  });

  it('lets a third weight that agrees with neither be another cause', () => {
    expect(found(`${weighed}cast C3\n  in D 8.11 g\n  out E 8.10 g bar`)).toHaveLength(2);
  });

  it('holds through a part taken between', () => {
    // 9.98 − 2.00 = 7.98
    const page = `${weighed}sample D\n  out Dq 2.00 g drillings\ncast C3\n  in D 7.98 g\n  out E 7.97 g bar`;
    expect(found(page)).toEqual(['weight-changed at 9.98 dwt']);
  });
});

describe('a wrong weight that no slip of the pen explains', () => {
  it('is told where the next step contradicts it; what is then left of the gap is the loss of the step', () => {
    const page =
      'receive A 50.00 g\nmelt M1\n  in A 50.00 g\n  out B 94.90 g bar\ncast C1\n  in B 49.40 g\n  out C 49.38 g bar';
    expect(found(page)).toEqual(['weight-changed at 94.90 g']);
    expect(found(page.replace('94.90', '49.40'))).toEqual(['loss-above-usual at M1']);
  });
});

describe('a figure that hangs on a likely slip', () => {
  it('is marked as not sure, and says on what it hangs', () => {
    const page =
      'receive X 61.40 g\ncast C2\n  in X\n  out D 61.30 g bar\ncupel K1\n  in D 63.10 g\n  add lead 100 g\n  out E 59.90 g bead';
    const hint = hintsOf(workspaceOf(page), 'page.melt').find(({ label }) => label.includes('base metal'))!;
    expect(hint.label).toBe('~3.20 g base metal gone, Au+Ag 94.93 %');
    expect(hint.tooltip()).toMatch(/^D at 63.10 g is likely a slip for 61.30 g/);
  });
});

describe('a lot of which a part was taken', () => {
  const sampled = 'receive F 50.00 g\nsample F\n  out Fq 2.00 g drillings\n';

  it('is held against what is left of it, and says that weight', () => {
    const page = `${sampled}cast C4\n  in F 50.00 g\n  out G 49.98 g bar`;
    expect(says(page)[0]).toMatch(
      /^48.00 g of F should be left after sample F; it weighs 50.00 g in cast C4: 2.00 g more/,
    );
    const workspace = workspaceOf(page);
    const fixes = findingsOf(workspace, 'page.melt')[0]!.fixes!.map(({ title }) => title);
    expect(fixes).toContain('Write 48.00 g in cast C4');
    expect(fixes).not.toContain('Write 50.00 g in receive F');
  });

  it('agrees where it weighs what is left', () => {
    expect(found(`${sampled}cast C4\n  in F 48.00 g\n  out G 47.97 g bar`)).toEqual([]);
  });
});

describe('an entry whose verb is not known', () => {
  it('is told alone: what it would have made is not said to be made by nothing', () => {
    const cast = 'cast C1\n  in G 20.00 g\n  out H 19.98 g bar\n';
    expect(found(`recieve G 20.00 g\n${cast}`)).toEqual(['unknown-verb at recieve']);
    expect(found(`cats C0\n  in X\n  out G 20.00 g bar\n${cast}`)).toEqual(['unknown-verb at cats']);
    expect(found(cast)).toEqual(['unknown-lot at G']);
  });
});
