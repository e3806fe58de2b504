/** Made-up histories of melts that truly balance, and what somebody would have read of them. Ours, from seeded random numbers. */
import type { MetalStream } from '../../server/engine/reconcile/metals';
import type { Reading } from '../../server/engine/reconcile/system';
import { type Random, seeded } from './random';

export interface MadeHistory {
  readonly nodes: number;
  readonly streams: readonly MetalStream[];
  readonly compositions: readonly (readonly Reading[])[];
  readonly trueMass: readonly number[];
  /** Of gold and silver, for each composition. */
  readonly trueFineness: readonly (readonly number[])[];
}

interface OpenLot {
  readonly from: number;
  readonly mass: number;
  readonly fineness: readonly number[];
}

const METAL_U = 0.01;
const FLUX_U = 0.3;

/** Normal with mean 0 and sd 1 (Box and Muller). */
export const normal = ({ next }: Random): number =>
  Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

/**
 * `steps` melts: each takes one to three open lots or a new one with flux, and gives a button (at times cut in two) and a slag. Open lots
 * wait `horizon` steps at most. `assayed` is the share of lots with assays; some slags and buttons are not weighed.
 */
export const madeHistory = (
  seed: number,
  steps: number,
  { horizon = 20, assayed = 0.3, noise = 1 } = {},
): MadeHistory => {
  const random = seeded(seed);
  const made = { nodes: steps, streams: [], compositions: [], trueMass: [], trueFineness: [] } as {
    nodes: number;
    streams: MetalStream[];
    compositions: Reading[][];
    trueMass: number[];
    trueFineness: number[][];
  };
  const read = (value: number, u: number): Reading => ({ value: value + noise * u * normal(random), u });
  const put = (
    ends: { from?: number; to?: number },
    mass: number,
    reading: Reading,
    fineness: readonly number[],
    assay: Reading[],
  ): void => {
    made.streams.push({ ...reading, ...ends, composition: made.compositions.length });
    made.compositions.push(assay);
    made.trueMass.push(mass);
    made.trueFineness.push([...fineness]);
  };
  const assays = (fineness: readonly number[], share: number): Reading[] =>
    random.next() < share ? fineness.map((part) => read(part, 0.001)) : [{}, {}];
  let open: OpenLot[] = [];
  for (let step = 0; step < steps; step++) {
    const taken = takeLots(random, open);
    if (taken.length === 0 || random.next() < 0.3) taken.push(newLot(random));
    open = open.filter((lot) => !taken.includes(lot));
    let [metal, gold, silver] = [0, 0, 0];
    for (const { from, mass, fineness } of taken) {
      const ends = from < 0 ? { to: step } : { from, to: step };
      put(ends, mass, read(mass, METAL_U), fineness, assays(fineness, from < 0 ? 0.9 : assayed));
      metal += mass;
      gold += mass * fineness[0]!;
      silver += mass * fineness[1]!;
    }
    const flux = metal * (0.3 + 0.4 * random.next());
    put({ to: step }, flux, read(flux, FLUX_U), [0, 0], [{ value: 0 }, { value: 0 }]);
    const [lost, lostGold, lostSilver] = [metal * 0.01, gold * 0.001, silver * 0.004];
    const slag = flux + lost;
    const slagFineness = [lostGold / slag, lostSilver / slag];
    put({ from: step }, slag, random.next() < 0.7 ? read(slag, FLUX_U) : {}, slagFineness, assays(slagFineness, 0.5));
    const fineness = [(gold - lostGold) / (metal - lost), (silver - lostSilver) / (metal - lost)];
    open.push(...cut(random, { from: step, mass: metal - lost, fineness }));
    const sold = open.filter(
      (lot) => step - lot.from >= horizon || step === steps - 1 || (lot.mass > 400 && lot.from < step),
    );
    for (const lot of sold)
      put({ from: lot.from }, lot.mass, read(lot.mass, METAL_U), lot.fineness, assays(lot.fineness, 0.9));
    open = open.filter((lot) => !sold.includes(lot));
  }
  return made;
};

const takeLots = (random: Random, open: readonly OpenLot[]): OpenLot[] => {
  const count = Math.min(open.length, random.whole(0, 3));
  const taken = new Set<OpenLot>();
  for (let each = 0; each < count; each++) taken.add(random.pick(open));
  return [...taken];
};

const newLot = (random: Random): OpenLot => {
  const gold = 0.3 + 0.5 * random.next();
  return { from: -1, mass: 20 + 200 * random.next(), fineness: [gold, (0.95 - gold) * random.next()] };
};

const cut = (random: Random, lot: OpenLot): OpenLot[] => {
  if (random.next() < 0.7) return [lot];
  const mass = lot.mass * (0.2 + 0.6 * random.next());
  return [
    { ...lot, mass },
    { ...lot, mass: lot.mass - mass },
  ];
};
