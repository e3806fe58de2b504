/** Ore, sweeps or salt on its way to a cupel: a cupel takes metal. */

import type { FlowWeight } from '../engine/book';
import { isMetalKind, metalShare } from '../engine/charge';
import { findMaterial } from '../engine/shelf';
import type { Topic, Wrong } from './advice';
import { contentsOf, type Job } from './job';
import { nativeShare } from './quartz';

export const noMetal: Topic = (job) =>
  noMetalIn(job).map(({ input, what }) => {
    const { name, place } = input.flow.lot!;
    const says = `${name} is ${what}, and a cupel takes metal alone: it would only lie there and keep its gold. Smelt it with flux first, and with lead or litharge where it is poor, and cupel the button.`;
    const wrong: Wrong = { code: 'no-metal-to-cupel', place, says };
    return {
      topic: `no metal ${name}`,
      at: place,
      label: 'no metal: smelt it first',
      rank: 'doubt' as const,
      working: () => ({ says, assumed: [] }),
      wrong: [wrong],
    };
  });

interface NoMetal {
  readonly input: FlowWeight;
  /** `black-sand`, `gold in quartz`. */
  readonly what: string;
}

/** Lots of a cupellation whose make is known, and is no metal. */
export const noMetalIn = (job: Job): readonly NoMetal[] => {
  if (job.entry.verb !== 'cupel') return [];
  const { workshop, book } = job.workspace;
  return (job.step?.inputs ?? []).flatMap((input): readonly NoMetal[] => {
    if (!input.flow.lot) return [];
    if (nativeShare(job, input.flow)) return [{ input, what: 'gold in quartz' }];
    const make = book.make(input.flow);
    if (make?.kind !== undefined && isMetalKind(make.kind)) return [];
    const material = make?.material === undefined ? undefined : findMaterial(workshop, make.material);
    if (!material || material.composition.length === 0 || metalShare(material) >= MOSTLY) return [];
    const contents = contentsOf(job, input, 'before');
    const metal = [...(contents?.metals.values() ?? [])].reduce((so, { best }) => so + best, 0);
    const isSalt = material.composition.some(({ what }) => what === 'AgCl');
    return !isSalt && contents && metal >= MOSTLY * contents.grams.best ? [] : [{ input, what: material.name }];
  });
};

/** From this share on a lot is metal. */
const MOSTLY = 0.5;
