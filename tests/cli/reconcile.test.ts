/** Readings held against each other: the command as its users run it. */
import { afterAll, describe, expect, test } from 'vitest';
import { fineweight, folderOf, removeFolders } from './run';

afterAll(removeFolders);

const PAGE = `2026-05-04
receive A 50.00 g ±0.02 standard
receive L 12.00 g
2026-05-05
weigh A 50.10 g ±0.01 standard
2026-05-06
split Y1
  in A 50.01 g ±0.01 standard
  out B 30.00 g ±0.01 standard
  out C ?
`;

describe('reconcile', () => {
  test('the whole, the suspect, what moved, what nothing checks, what was not weighed', () => {
    const { out, exit } = fineweight(['reconcile'], { cwd: folderOf({ 'may.melt': PAGE }) });
    expect(exit).toBe(0);
    // Without 50.10: (50.00/4 + 50.01)/1.25, u = 0.01/√1.25; so 50.00 ±0.04 and 50.01 ±0.02 are moved by less than they are unsure.
    expect(out).toBe(`The shop, readings held against each other

A, B and C, 1 step, 4 weights, 0 assay figures
It does not hang together: chi-squared 47.2 on 2 checks, and of 100 honest records 95 stay below 5.99.
suspect: A at weigh, 50.10 g ±0.02: the rest gives 50.008 g ±0.018. may.melt:5

moved by more than its own uncertainty
reading              read         adjusted  an error shows from  where
A at weigh  50.10 g ±0.02  50.008 g ±0.018              0.049 g  may.melt:5

Nothing would show if these were wrong
reading                 read  where
B in split Y1  30.00 g ±0.02  may.melt:9

not weighed, but told by the rest: C 20.01 g ±0.03


Nothing else speaks of these
reading                  read  where
L at receive  12.000 g ±0.006  may.melt:3
`);
  });

  test('a weight that was accepted as changed stands beside the other: neither is blended into the other', () => {
    const page = `2026-05-04
receive RG-21 40.00 g ±0.02
2026-05-05
weigh RG-21 38.40 g ±0.02  # accepted weight-changed: pickled again
2026-05-06
cast Y1
  in RG-21 38.41 g ±0.02
  out B 38.40 g ±0.02 bar
`;
    const { out } = fineweight(['reconcile'], { cwd: folderOf({ 'may.melt': page }) });
    expect(out).toContain('It hangs together');
    expect(out).not.toContain('suspect');
    expect(out).toMatch(/Nothing would show if these were wrong\n.*\nRG-21 at receive {2}40\.00 g/);
    const without = fineweight(['reconcile'], { cwd: folderOf({ 'may.melt': page.replace(/ {2}#.*/, '') }) });
    expect(without.out).toContain('suspect: RG-21 at receive');
    const noReason = page.replace(': pickled again', '');
    expect(fineweight(['reconcile'], { cwd: folderOf({ 'may.melt': noReason }) }).out).toContain('suspect: RG-21');
  });

  test('an accepted weighing between two that agree, and one of what came back from a buyer', () => {
    const page = `2026-05-04
receive A 50.00 g ±0.02
receive C 80.00 g ±0.02
2026-05-05
weigh A 51.20 g ±0.02  # accepted weight-changed: still damp
ship V1 to north-lab
  in C
2026-05-06
weigh A 50.01 g ±0.02
2026-06-01
more ship V1
  back C 79.10 g ±0.02  # accepted weight-changed: they kept a drilling
`;
    const { out } = fineweight(['reconcile'], { cwd: folderOf({ 'may.melt': page }) });
    expect(out).not.toMatch(/suspect|moved/);
  });

  test('the history of one lot, as data', () => {
    const cwd = folderOf({ 'may.melt': PAGE });
    const { out } = fineweight(['reconcile', '--lot', 'C', '--format', 'json'], { cwd });
    const { journals } = JSON.parse(out) as { journals: { histories: Record<string, unknown>[] }[] };
    const [history, other] = journals[0]!.histories;
    expect(other).toBeUndefined();
    expect(history).toMatchObject({ lots: ['A', 'B', 'C'], steps: ['split Y1'], settled: true, hangsTogether: false });
    expect(history!.suspects).toMatchObject([{ reading: { of: 'A', entry: 'weigh A', line: 5 }, orElse: [] }]);
    const rows = fineweight(['reconcile', '--lot', 'L', '--format', 'csv'], { cwd }).out.trimEnd().split('\r\n');
    expect(rows.slice(1)).toEqual([expect.stringMatching(/^L,mass,L,,receive L,12,.*,,,,may\.melt,3,no$/)]);
  });

  test('a lot that is not there', () => {
    const { err, exit } = fineweight(['reconcile', '--lot', 'D9'], { cwd: folderOf({ 'may.melt': PAGE }) });
    expect([exit, err]).toEqual([2, 'fineweight: No entry of this journal speaks of a lot D9.\n']);
  });
});
