/**
 * Time to reconcile made histories: masses alone, masses with two metals, and again after one reading changed. Prints a table; judges
 * nothing. Each size runs in a process of its own, and its first line is that of code that has not run before.
 */
import { fork } from 'node:child_process';
import { performance } from 'node:perf_hooks';
import { findSuspects } from '../../server/engine/reconcile/gross';
import { type MetalNetwork, type MetalResult, reconcileMetals } from '../../server/engine/reconcile/metals';
import { networkSystem } from '../../server/engine/reconcile/network';
import { reconcile, reconcileAgain } from '../../server/engine/reconcile/solve';
import { madeHistory } from '../support/history';

interface Time {
  readonly wall: number;
  readonly cpu: number;
}

interface Row {
  readonly what: string;
  readonly first: Time;
  readonly median: Time;
}

const timed = (work: () => void): Time => {
  const cpu = process.cpuUsage();
  const start = performance.now();
  work();
  const wall = performance.now() - start;
  const used = process.cpuUsage(cpu);
  return { wall, cpu: (used.user + used.system) / 1000 };
};

const rowOf = (what: string, runs: number, work: (run: number) => void): Row => {
  const times = Array.from({ length: runs }, (_, run) => timed(() => work(run)));
  const sorted = [...times].sort((one, other) => one.cpu - other.cpu);
  return { what, first: times[0]!, median: sorted[sorted.length >> 1]! };
};

/** With how sure each mass is, which is worked out when it is asked for. */
const inAll = (network: MetalNetwork, before?: MetalResult): MetalResult => {
  const result = reconcileMetals(network, before);
  for (const stream of network.streams.keys()) result.mass(stream);
  return result;
};

const measure = (steps: number): Row[] => {
  const made = { ...madeHistory(7, steps), metals: 2 };
  const runs = Math.max(3, Math.min(60, Math.round(10_000 / steps)));
  const system = networkSystem(made);
  const cold = rowOf('with two metals, cold code', 1, () => inAll(made));
  const [masses, metals] = [reconcile(system), reconcileMetals(made)];
  const at = made.streams.findIndex(({ value }) => value !== undefined);
  const changed = (run: number) => {
    const stream = made.streams[at]!;
    return made.streams.with(at, { ...stream, value: stream.value! + 0.01 * (run + 1) });
  };
  return [
    cold,
    rowOf('masses', runs, () => reconcile(system)),
    rowOf('suspects', runs, () => findSuspects(masses, { until: 'reading' })),
    rowOf('masses, one changed', runs, (run) => reconcileAgain(masses, changed(run))),
    rowOf('with two metals', runs, () => inAll(made)),
    rowOf('values and tests alone', runs, () => reconcileMetals(made)),
    rowOf('with metals, one changed', runs, (run) => inAll({ ...made, streams: changed(run) }, metals)),
    rowOf('values and tests alone', runs, (run) => reconcileMetals({ ...made, streams: changed(run) }, metals)),
  ];
};

const one = (value: number): string => value.toFixed(1).padStart(9);

const print = (steps: number, streams: number, rows: readonly Row[]): void => {
  console.log(`\n${steps} steps, ${streams} streams                first ms      CPU   median ms      CPU`);
  for (const { what, first, median } of rows) {
    console.log(`  ${what.padEnd(26)}${one(first.wall)}${one(first.cpu)}   ${one(median.wall)}${one(median.cpu)}`);
  }
};

const size = process.argv[2];
if (size) {
  const steps = Math.trunc(+size);
  process.send!({ streams: madeHistory(7, steps).streams.length, rows: measure(steps) });
} else {
  const run = (steps: number): Promise<{ streams: number; rows: Row[] }> =>
    new Promise((resolve, reject) => {
      const child = fork(process.argv[1]!, [`${steps}`]);
      child.once('message', (result) => resolve(result as { streams: number; rows: Row[] }));
      child.once('error', reject);
    });
  (async () => {
    console.log('Reconciling made histories: the first run, and the median of all.');
    for (const steps of [50, 1_000, 10_000]) {
      const { streams, rows } = await run(steps);
      print(steps, streams, rows);
    }
  })();
}
