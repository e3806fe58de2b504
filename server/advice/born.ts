/** The step that made a lot, and how much of its product is taken: what was charged there is in it still. */
import type { FlowWeight } from '../engine/book';
import { type Job, jobOf } from './job';

export interface Born {
  readonly made: Job;
  /** Taken of the product, 0 to 1. */
  readonly part: number;
}

/** None where another verb made it, or one of the weights is not known. */
export const bornIn = (
  { workspace }: Job,
  { flow: { lot }, mass }: FlowWeight,
  verbs: ReadonlySet<string>,
): Born | undefined => {
  const birth = lot && workspace.book.lot(lot.name)?.births[0];
  const made = birth && verbs.has(birth.entry.verb) ? jobOf(workspace, birth.entry) : undefined;
  const whole = made?.step?.outputs.find(({ flow }) => flow.lot?.name === lot?.name)?.mass;
  if (!made || !mass || !whole?.value.greaterThan(0)) return undefined;
  return { made, part: Math.min(1, mass.value.div(whole.value).toNumber()) };
};
