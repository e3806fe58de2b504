/** Plans: computed as if they were done, and booked nowhere. */
import { describe, expect, it } from 'vitest';
import { doneText } from '../../server/advice/done';
import { planOf, plansOn } from '../../server/advice/plans';
import { hintsOf } from '../../server/features/hints';
import { planActionsAt } from '../../server/features/plan-actions';
import { findingsOf } from '../../server/rules/findings';
import type { Workspace } from '../../server/workspace/workspace';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';

const planIn = (workspace: Workspace, index = 0) => planOf(workspace, plansOn(workspace, FILE)[index]!)!;

const LOT = '2026-06-01\n\nreceive A 61.0 g\n  expect Au 60 %, Ag 38 %\n\n';

describe('a plan', () => {
  it('is booked nowhere', () => {
    const workspace = pageWorkspace(`${LOT}plan cupel K1\n  in A\n  add lead 61 g\n  out B 59.0 g bead\n`);
    expect(workspace.book.lot('A')?.left?.value.toString()).toBe('61');
    expect(workspace.book.lot('B')?.births).toEqual([]);
    expect(said(workspace)).toEqual([]);
  });

  it('is computed as if it were done: its lines have the figures that they would have', () => {
    const done = `${LOT}cupel K1\n  in A\n  add lead 61 g\n  out B 59.0 g bead\n`;
    const planned = done.replace('cupel K1', 'plan cupel K1');
    const labels = (page: string) => hintsOf(pageWorkspace(page), FILE).map(({ label }) => label);
    // Behind them a plan may say more: nothing of it is weighed yet.
    const shown = labels(planned);
    expect(labels(done).filter((label) => !shown.some((one) => one.startsWith(label)))).toEqual([]);
    expect(labels(done).length).toBeGreaterThan(3);
  });

  it('has what it leaves out written in behind what it says, and nothing else touched', () => {
    const plan = planIn(pageWorkspace(`${LOT}plan cupel K1, hand AB  # for friday\n  in A\n  note slowly\n`));
    const lines = plan.filled.text.split('\n');
    expect(lines.slice(0, 2)).toEqual(['cupel K1, hand AB  # for friday', '  in A']);
    expect(lines.find((line) => line.includes('add lead'))).toMatch(/^ {2}add lead ~[\d.]+ g$/);
    expect(lines.indexOf(lines.find((line) => line.includes('add lead'))!)).toBe(2);
    expect(lines).toContain('  note slowly');
  });

  it('has an amount put where it was asked for with ?', () => {
    const plan = planIn(pageWorkspace(`${LOT}plan cupel K1\n  in A\n  add lead ? g, lent\n`));
    expect(plan.filled.text).toMatch(/^ {2}add lead ~[\d.]+ g, lent$/m);
  });

  it('of the name of another is asked about, once', () => {
    const workspace = pageWorkspace(`${LOT}plan cupel K1\n  in A\n\nplan cupel K1\n  in A\n  add lead 61 g\n`);
    expect(said(workspace)).toEqual(['name-used-twice at "K1"']);
  });

  it('says what it will lose, as such a step usually does', () => {
    const plan = planIn(pageWorkspace(`${LOT}plan cast C1\n  in A\n`));
    const loss = plan.advice.find(({ topic }) => topic === 'expected loss')!;
    // Metal alone: under half a per cent.
    expect(loss.label).toBe('up to 0.30 g lost (0.50 %) is usual');
    const told = loss.working();
    expect(told.assumed.map(({ source }) => source).join()).toContain('karat scrap');
    expect(plan.filled.text).toMatch(/^ {2}out ~60\.8 g bar$/m);
  });

  it('takes what another plan makes', () => {
    const workspace = pageWorkspace(
      `${LOT}plan cast C1\n  in A\n  out B 60.9 g bar\n\nplan cupel K1\n  in B\n  add lead 61 g\n  out 59 g bead\n`,
    );
    expect(said(workspace)).toEqual([]);
    const plan = planIn(workspace, 1);
    expect(plan.job.step?.inputs[0]?.mass?.value.toString()).toBe('60.9');
    expect(plan.after.map(({ entry }) => entry.name?.name)).toEqual(['C1']);
  });

  it('carries on as narrow as it is known, however many plans it goes through', () => {
    const workspace = pageWorkspace(
      `2026-06-01\n\nreceive A 20.00 g\nassay A by fire\n  Au 88.0 %, Ag 10.5 %\n\nplan melt M1\n  in A\n  add silver ?\n  out B shot\n\nplan part P1\n  in B\n  out G sponge\n  out L solution\n\nplan drop R1\n  in L\n  add copper ?\n`,
    );
    const ranges = (index: number) => planIn(workspace, index).written.map(({ writing }) => writing.range);
    expect(ranges(0)).toContain('silver 42 g');
    expect(ranges(1)).toContain('gold 18 g');
    // Of the silver 42 of the shelf and 2.1 of the charge; a filter keeps up to 2 %. Copper is given a tenth to a fifth over.
    expect(ranges(2)).toContain('copper 13..16 g');
  });

  it('comes to an end where plans make what each other takes', () => {
    const workspace = pageWorkspace('2026-06-01\nplan cast C1\n  in B\n  out A\n\nplan cast C2\n  in A\n  out B\n');
    expect(plansOn(workspace, FILE).map((entry) => planOf(workspace, entry) !== undefined)).toEqual([true, true]);
  });

  it('that takes more than there is, or a lot that nothing makes, is told at its line', () => {
    expect(said(pageWorkspace(`${LOT}plan cast C1\n  in 70 g of A\n  out B 69.9 g bar\n`))).toEqual([
      'more-than-left at "70 g"',
    ]);
    expect(said(pageWorkspace(`${LOT}plan cast C1\n  in Q 20 g\n  out B 19.9 g bar\n`))).toEqual([
      'unknown-lot at "Q"',
    ]);
  });

  it('is over when the same verb and name stand without it', () => {
    const page = `${LOT}plan cast C1\n  in A\n\n2026-06-02\n\ncast C1\n  in A\n  out B 60.9 g bar\n`;
    const workspace = pageWorkspace(page);
    expect(plansOn(workspace, FILE)).toEqual([]);
    expect(hintsOf(workspace, FILE).filter(({ family }) => family === 'plan')).toEqual([]);
  });
});

describe('from a plan to what was done', () => {
  it('leaves what was guessed to be weighed, and keeps the figure beside', () => {
    const plan = planIn(
      pageWorkspace(`${LOT}plan cupel K1\n  in A 61.0 g\n  add lead ~58 g, lent\n  out B ~59 g bead\n`),
    );
    expect(doneText(plan)).toBe(
      'cupel K1\n  in A 61.0 g\n  add lead ? g, lent  # planned 58 g\n  out B ? g bead  # planned 59 g\n',
    );
  });

  it('is offered at the plan, after writing in what is left out', () => {
    const page = `${LOT}plan cupel K1\n  in A\n`;
    const workspace = pageWorkspace(page);
    const at = page.indexOf('plan');
    expect(
      planActionsAt(workspace, FILE, { start: at, end: at }).map(({ title, preferred }) => [title, preferred]),
    ).toEqual([
      ['Write in what is worked out', true],
      ['Done: weigh it now, and keep the planned figures beside', false],
    ]);
  });
});

describe('plans that wait for each other', () => {
  it.each([
    [
      'two',
      'plan melt M1\n  in B\n  out A\nplan cast M2\n  in A\n  out B\n',
      'melt M1 takes B of cast M2, which takes A of melt M1',
    ],
    ['one', 'plan melt M1\n  in A\n  out A\n', 'melt M1 takes A, which it is to make itself'],
    [
      'three',
      'plan melt M1\n  in C\n  out A\nplan melt M2\n  in A\n  out B\nplan melt M3\n  in B\n  out C\n',
      'melt M1 takes C of melt M3, which takes B of melt M2, which takes A of melt M1',
    ],
  ])('%s of them are one finding', (_, plans, says) => {
    const found = findingsOf(pageWorkspace(`2026-06-01\n${plans}`), 'page.melt');
    expect(found.map(({ code }) => code)).toEqual(['plans-in-a-circle']);
    expect(found[0]?.says).toContain(says);
  });

  it('are none where one only waits, or one of the lots came in', () => {
    const chain = 'plan melt M1\n  in Z\n  out A\nplan cast M2\n  in A\n  out B\n';
    expect(said(pageWorkspace(`2026-06-01\nreceive Z 20 g\n${chain}`))).toEqual([]);
  });
});
