/** Native gold in quartz, by a density: the rest of the piece is quartz, and no metal. */
import { matrixOf, QUARTZ, weighedDensity } from '../engine/accounts/assays';
import { goldInQuartz } from '../engine/bench/density';
import type { Estimate } from '../engine/bench/result';
import type { Flow } from '../engine/entry';
import { accountsOf } from '../workspace/accounts';
import type { Job } from './job';

/** Share of native gold, 0 to 1, by the last density of a lot that is said to be quartz, there or where it came in; else undefined. */
export const nativeShare = ({ workspace }: Job, flow: Flow): Estimate | undefined => {
  const segment = accountsOf(workspace).metals.lineage.segment(flow);
  const isQuartz = segment?.story.make?.material === QUARTZ;
  const by = segment?.events.findLast(
    ({ entry }) => entry.verb === 'assay' && weighedDensity(entry) && (isQuartz || matrixOf(entry) === QUARTZ),
  );
  const density = by && weighedDensity(by.entry);
  return density && goldInQuartz(density).value?.nativeFraction;
};
