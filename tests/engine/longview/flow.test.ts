/** The way of a metal: what comes into a step goes out of it, and its ends are those of the account. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type MetalFlow, metalFlow } from '../../../server/engine/longview/flow';
import { accountsOf } from '../../../server/workspace/accounts';
import { longViewOf } from '../../../server/workspace/long-view';
import type { Workspace } from '../../../server/workspace/workspace';
import { shopYear, YEAR_WORKSHOP } from '../../support/shop-year';
import { workspaceOf } from '../../support/workspace';

const flowOf = (workspace: Workspace, metal: string, together: boolean): MetalFlow => {
  const accounts = accountsOf(workspace);
  return metalFlow({
    metal,
    passages: longViewOf(workspace)
      .done()
      .map(({ step }) => accounts.metals.lineage.passage(step)),
    metals: accounts.metals,
    book: workspace.book,
    holdings: accounts.stock(),
    together,
  });
};

const into = ({ ways }: MetalFlow, place: string): number =>
  ways.filter(({ to }) => to === place).reduce((so, { grams }) => so + grams.value, 0);
const outOf = ({ ways }: MetalFlow, place: string): number =>
  ways.filter(({ from }) => from === place).reduce((so, { grams }) => so + grams.value, 0);

const year = workspaceOf({ 'workshop.yaml': YEAR_WORKSHOP, ...Object.fromEntries(shopYear({ lots: 20 })) });
const folder = resolve(__dirname, '../../../samples/tarn-end');
const tarnEnd = workspaceOf(
  Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')])),
);

describe.each([
  ['a made year', year],
  ['the sample shop', tarnEnd],
])('%s', (_, workspace) => {
  test.each([true, false])('what comes into steps goes out of them, steps together: %s', (together) => {
    const flow = flowOf(workspace, 'Au', together);
    for (const { id, kind, name } of flow.places.filter(({ kind }) => kind === 'step')) {
      const [went, came] = [into(flow, id), outOf(flow, id)];
      // A lot that is weighed again, or of which a part stays where it was weighed otherwise, differs by what its scales explain.
      expect(Math.abs(went - came), `${kind} ${name}: ${went} in, ${came} out`).toBeLessThan(0.01 + 0.005 * went);
    }
  });

  test('what was shipped is what the account has', () => {
    const flow = flowOf(workspace, 'Au', true);
    const account = accountsOf(workspace).period('Au');
    const shipped = account.lines.find(({ movement }) => movement === 'shipped')!;
    expect(into(flow, 'shipped')).toBeCloseTo(shipped.grams.value, 6);
    expect(into(flow, 'on hand')).toBeCloseTo(account.closing.value, 6);
  });
});
