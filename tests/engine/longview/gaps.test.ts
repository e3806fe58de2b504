/** Several melts between two assays: what is missing between these is missing once. */
import { expect, it } from 'vitest';
import { metalRunning } from '../../../server/engine/longview/running';
import { chartSettings } from '../../../server/engine/longview/series';
import { longViewOf } from '../../../server/workspace/long-view';
import { pageWorkspace } from '../../support/workspace';

const melts = (count: number, assayed: readonly number[]): string =>
  [
    '2026-05-04\nreceive L0 100.00 g\nassay L0 by fire\n  Au 60.0 %, Ag 39.0 %',
    ...Array.from({ length: count }, (_, at) => {
      const melt = `melt M${at + 1}\n  in L${at} 100.00 g\n  out L${at + 1} 100.00 g bar`;
      return assayed.includes(at + 1) ? `${melt}\nassay L${at + 1} by fire\n  Au 59.0 %, Ag 40.0 %` : melt;
    }),
  ].join('\n');

const running = (page: string) => {
  const workspace = pageWorkspace(page);
  const { limits } = workspace.workshop;
  const of = metalRunning('Au', longViewOf(workspace).done(), chartSettings(limits), limits.coverage);
  return { steps: of.steps.map(({ step }) => step.entry.name?.name), same: of.same, sum: of.sums.at(-1)!.sum };
};

it('is counted at the melt whose bar was assayed', () => {
  const { steps, same, sum } = running(melts(8, [8]));
  expect([steps, same]).toEqual([['M8'], 7]);
  // 60.0 g − 59.0 g, less a usual loss of 0.09 g; the seven bars before weigh as much as was melted, to 0.0082 g, half of which may be lost.
  expect(sum).toBeCloseTo(1 - 0.0015 * 60 - (7 * 0.00816) / 2, 4);
});

it('and again behind it', () => {
  expect(running(melts(8, [3, 8])).steps).toEqual(['M3', 'M8']);
});

it('each melt whose bar was assayed counts for itself', () => {
  expect(running(melts(3, [1, 2, 3]))).toMatchObject({ steps: ['M1', 'M2', 'M3'], same: 0 });
});
