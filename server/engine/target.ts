/** What the product of a melt, a cast or a blend is to hold: `expect Au 18 k`. */
import { isMetalKind } from './charge';
import type { Entry, Flow, OtherDetail, Reading } from './entry';

export interface Target extends OtherDetail {
  readonly reading: Reading;
}

/** Of one product, or of an entry as a whole: what is said on the product's own line goes before what is said of all. */
export const targetOf = (entry: Entry, product?: Flow): Target | undefined => {
  if (entry.verb === 'receive') return undefined;
  const all = entry.others.filter((other): other is Target => other.word === 'expect' && other.reading !== undefined);
  if (!product) return all[0];
  const own = all.find((other) => other.product?.start === product.place.start);
  if (own) return own;
  return product.word === 'out' && isMetalKind(product.kind) ? all.find((other) => !other.product) : undefined;
};
