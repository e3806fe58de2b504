/** Niter for the sulphides of a charge, held to what the crucible that the melt names takes: half full, for niter lifts a charge all at once. */
import type { Estimate } from '../engine/bench/result';
import { ANY_METAL, FROTHS_ABOVE, roomOfCharge } from '../engine/crucible';
import type { Flow } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import { fitting } from '../reports/figures';
import type { Advice, Working } from './advice';
import type { Job } from './job';
import { bestWords, rangeWords, termWords } from './words';

export interface NiterBeyond {
  readonly crucible: string;
  readonly says: string;
  readonly rows: readonly string[];
}

/** Undefined where the niter goes in beside all that is written, or no crucible of known volume is named. */
export const niterBeyond = ({ step, entry, workspace }: Job, need: Estimate): NiterBeyond | undefined => {
  const { workshop, book } = workspace;
  const named = entry.gear.find(({ word }) => word === 'crucible')?.item;
  const volume = named && workshop.crucibles.get(named.name)?.volumeMillilitres;
  const density = findMaterial(workshop, 'niter')?.bulkDensity;
  if (!step || !volume || !density) return undefined;
  const most = Math.min(FROTHS_ABOVE, workshop.limits.fill.high);
  const charge = roomOfCharge(step, workshop, book.make, ANY_METAL).millilitres.best;
  const niter = need.best / ((density.low + density.high) / 2);
  const room = charge + niter;
  if (room <= most * volume) return undefined;
  const feed = step.inputs.reduce((so, { mass }) => so + Math.max(0, mass?.value.toNumber() ?? 0), 0);
  const share = (most * volume) / room;
  const at = (grams: number): string =>
    bestWords({ low: grams * share, best: grams * share, high: grams * share }, 'g');
  return {
    crucible: named.name,
    says: `${named.name}, half full, does not take that much niter: with flux still to come a melt in it takes less than ${at(feed)} of the feed with ${at(need.best)} of niter. Roast it first, divide it over several melts, or take a larger crucible.`,
    rows: [
      `room              ${termWords(charge, 'mL')} + niter ${termWords(need.best, 'g')} / ${termWords(need.best / niter, 'g/mL')} = ${termWords(room, 'mL')}`,
      `${named.name.padEnd(17)} ${most} × ${volume} mL = ${termWords(most * volume, 'mL')}, ${termWords(share, '')} of that`,
    ],
  };
};

/** More niter than the named crucible takes: nothing is written in. */
export const tooMuchNiter = (
  topic: string,
  open: Flow,
  need: Estimate,
  tight: NiterBeyond,
  working: () => Working,
): Advice => {
  const name = open.material!.name;
  return {
    topic,
    at: open.place,
    label: fitting(
      `${name} ${rangeWords(need, 'g')} is too much for ${tight.crucible}`,
      `${name}: too much for the crucible`,
    ),
    rank: 'doubt',
    working: () => {
      const { says, rows = [], ...rest } = working();
      return { ...rest, says: `${says} ${tight.says}`, rows: [...rows, ...tight.rows] };
    },
  };
};
