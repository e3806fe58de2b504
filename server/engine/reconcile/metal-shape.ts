/** Whether two networks are laid out alike, so that what was worked out for one serves the other. */
import type { MetalNetwork, MetalStream } from './metal-system';
import { kindOf, type Reading } from './system';

/** The same streams between the same steps, and the same things read. */
export const sameShape = (before: MetalNetwork, after: MetalNetwork): boolean =>
  before.nodes === after.nodes &&
  before.metalNodes === after.metalNodes &&
  sameMore(before.more, after.more) &&
  before.metals === after.metals &&
  before.sources === after.sources &&
  before.streams.length === after.streams.length &&
  before.compositions.length === after.compositions.length &&
  before.streams.every((stream, at) => {
    const other = after.streams[at]!;
    return (
      stream.from === other.from &&
      stream.to === other.to &&
      stream.composition === other.composition &&
      stream.shared === other.shared &&
      kindOf(stream) === kindOf(other) &&
      sameMetals(stream.metals, other.metals)
    );
  }) &&
  before.compositions.every((fractions, at) => {
    const others = after.compositions[at]!;
    if (fractions === others) return true;
    for (let metal = 0; metal < before.metals; metal++) {
      const [one, other] = [fractions[metal] ?? {}, others[metal] ?? {}];
      if (kindOf(one) !== kindOf(other) || one.shared !== other.shared) return false;
      if (kindOf(one) === 'exact' && (one.value === 0) !== (other.value === 0)) return false;
    }
    return true;
  });

const sameMore = (before: MetalNetwork['more'] = [], after: MetalNetwork['more'] = []): boolean =>
  before.length === after.length &&
  before.every((one, at) => {
    const other = after[at]!;
    return one.composition === other.composition && one.metal === other.metal && kindOf(one) === kindOf(other);
  });

const sameMetals = (before: MetalStream['metals'] = [], after: MetalStream['metals'] = []): boolean =>
  before === after || (before.length === after.length && before.every((one, at) => alike(one, after[at])));

const alike = (one: Reading = {}, other: Reading = {}): boolean =>
  kindOf(one) === kindOf(other) && one.shared === other.shared;
