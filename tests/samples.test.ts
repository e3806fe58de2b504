/**
 * The samples, whole: clean pages say nothing, and a slip put into one of their weights is found. The shares below are what the product
 * promises; the figures measured are printed.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { proofsOf } from '../server/cli/proofs';
import { RULES } from '../server/rules/catalogue';
import { findingsOf } from '../server/rules/findings';
import { emptyWorkspace, withProofs, withTexts } from '../server/workspace/update';
import type { Workspace } from '../server/workspace/workspace';
import { seeded } from './support/random';
import { type SlipKind, type Trial, tryOne, weightsOf } from './support/slips';
import { said } from './support/workspace';

const SAMPLES = resolve(__dirname, '../samples');

const sample = (folder: string): Workspace => {
  const names = readdirSync(join(SAMPLES, folder)).filter((name) => name.endsWith('.melt') || name === 'workshop.yaml');
  const root = join(SAMPLES, folder);
  const texts = new Map(names.map((name) => [name, readFileSync(join(root, name), 'utf8')]));
  const workspace = withTexts(emptyWorkspace(root), texts);
  return withProofs(workspace, proofsOf(workspace));
};

describe('the sample journal', () => {
  const workspace = sample('tarn-end');

  it('has at least sixty entries over several files', () => {
    expect(workspace.pages.size).toBeGreaterThan(1);
    expect([...workspace.pages.values()].reduce((sum, page) => sum + page.entries.length, 0)).toBeGreaterThanOrEqual(
      60,
    );
  });

  it('has no finding', () => {
    const files = [...workspace.pages.keys(), 'workshop.yaml'];
    expect(files.flatMap((file) => said(workspace, file))).toEqual([]);
  });

  it('shows nine in ten slips of a checked weight on their line, and proposes the true weight for six in ten', () => {
    const random = seeded(20260504);
    const spots = weightsOf(workspace);
    const kinds: readonly SlipKind[] = ['gram', 'swap', 'unit'];
    const trials: Trial[] = [];
    while (trials.length < 100) {
      const trial = tryOne(workspace, random.pick(spots), random.pick(kinds), random);
      if (trial && trial.checkedBy !== 'nothing') trials.push(trial);
    }
    const share = (test: (trial: Trial) => boolean): number => trials.filter(test).length;
    const unchecked = spots.filter((spot) =>
      kinds.every((kind) => (tryOne(workspace, spot, kind, seeded(7))?.checkedBy ?? 'nothing') === 'nothing'),
    );
    console.log(
      `of 100 slips in checked weights: ${share(({ found }) => found)} named on their line, ` +
        `${share(({ primary }) => primary)} of them as the place itself, ${share(({ mended }) => mended)} with the true weight proposed; ` +
        `${unchecked.length} of ${spots.length} weights are checked by nothing`,
    );
    for (const trial of trials.filter(({ found, mended }) => !found || !mended)) console.log(JSON.stringify(trial));
    expect(share(({ found }) => found)).toBeGreaterThanOrEqual(90);
    expect(share(({ mended }) => mended)).toBeGreaterThanOrEqual(60);
  });
});

describe('the page of mistakes', () => {
  it('shows every rule exactly once', () => {
    const workspace = sample('mistakes');
    const codes = [...workspace.pages.keys(), 'workshop.yaml'].flatMap((file) =>
      findingsOf(workspace, file).map(({ code }) => code),
    );
    expect(codes.toSorted()).toEqual(RULES.map(({ code }) => code).toSorted());
  });
});
