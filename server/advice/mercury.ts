/** Amalgam on its way to a fire that is no retort. */

import { HOT } from '../engine/bench/hazards';
import type { FlowWeight } from '../engine/book';
import { stepWords } from '../reports/words';
import type { Topic } from './advice';
import { contentsOf, type Job } from './job';

export const mercury: Topic = (job) => {
  const { entry, step } = job;
  if (!FIRES.has(entry.verb)) return [];
  return (step?.inputs ?? []).flatMap((input) => {
    const what = bearing(job, input);
    if (what === undefined || !input.flow.lot) return [];
    const { name, place } = input.flow.lot;
    const says = `${name} ${what} and goes to the fire in ${stepWords(entry)}: its mercury would go into the air. Retort it first, closed, and weigh the mercury; local codes and licensed practice come first.`;
    return [
      {
        topic: 'mercury',
        at: place,
        rank: 'doubt' as const,
        working: () => ({ says, assumed: [] }),
        wrong: [{ code: 'mercury-to-fire', place, says }],
      },
    ];
  });
};

const FIRES: ReadonlySet<string> = new Set([...HOT, 'dry']);

/** Retorted metal keeps up to 1.5 % mercury (Rose): more than that was not retorted. */
const MOST_RETORTED = 0.015;

const bearing = (job: Job, input: FlowWeight): string | undefined => {
  if (job.workspace.book.make(input.flow)?.material === 'amalgam') return 'is amalgam';
  const contents = contentsOf(job, input);
  const found = contents?.metals.get('Hg');
  return contents && found && found.low > MOST_RETORTED * contents.grams.best ? 'holds mercury' : undefined;
};
