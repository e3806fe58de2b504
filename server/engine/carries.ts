/** What the products of a step are, where the record says what went in: dried sand is the same sand, and salt throws silver down as chloride. */
import type { Step } from './book';
import { addedParts, type MakeOf } from './charge';
import type { Flow } from './entry';
import type { Workshop } from './workshop';

/** Leave a lot what it was, or divide it. */
const CARRYING: ReadonlySet<string> = new Set(['dry', 'wash', 'split', 'screen', 'magnet', 'pan', 'blend', 'sample']);

/** By the verb: the word before the name of what went in. */
const HEATED: ReadonlyMap<string, 'burnt' | 'roasted'> = new Map([
  ['burn', 'burnt'],
  ['roast', 'roasted'],
]);

const SILVER_CHLORIDE = 'silver-chloride';

/** The material that the products of a step are of; undefined where nothing tells, or what went in is of two kinds. */
export const carriedBy = (step: Step, make: MakeOf, workshop: Workshop): string | undefined => {
  const { verb } = step.entry;
  if (verb === 'drop') return isBySalt(step, workshop) ? SILVER_CHLORIDE : undefined;
  const heated = HEATED.get(verb);
  if (!heated && !CARRYING.has(verb)) return undefined;
  const [first, ...others] = step.inputs.map(({ flow }) => make(flow)?.material);
  if (first === undefined || others.some((material) => material !== first)) return undefined;
  if (!heated) return first;
  return step.added.length > 0 ? undefined : first.startsWith(`${heated} `) ? first : `${heated} ${first}`;
};

/** Of a drop not what stays dissolved. */
export const isCarried = (flow: Flow | undefined, verb: string): boolean =>
  verb !== 'drop' || flow?.kind !== 'solution';

/** Salt or hydrochloric acid, and nothing that brings down metal. */
const isBySalt = ({ added }: Step, workshop: Workshop): boolean => {
  const parts = addedParts(added, workshop);
  const isChloride = parts.some(({ item }) => item.material.composition.some(({ what }) => CHLORIDES.has(what)));
  return isChloride && parts.every(({ material }) => material !== undefined && !REDUCES.has(material.group));
};

const CHLORIDES: ReadonlySet<string> = new Set(['NaCl', 'HCl']);
const REDUCES: ReadonlySet<string> = new Set(['metal', 'collector', 'reductant']);
