/** A weight of nought where something is said to be. */
import type { Amount, Entry, Flow } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import { digitsIn } from './figures';
import { type Fix, rule } from './rule';

export const nothingWeighed = rule({
  code: 'nothing-weighed',
  severity: 'warning',
  atOnce: false,
  title: 'a weight of nothing',
  why: 'A nought is a figure: it says that there was nothing. Of a product write `none`; of what was not weighed yet write `?` or nothing. A nought of a scale may be one that was set to nought with the metal on it.',
  wrong: '2026-05-04\nreceive A 0 g',
  right: '2026-05-04\nreceive A ?',
  entry: function* ({ entry }) {
    for (const { amount, flow } of weightsOf(entry)) {
      const [figure, ...more] = digitsIn(amount);
      if (!figure?.value.equals(decimal(0)) || more.length > 0 || amount.figure?.form !== 'reading') continue;
      const isProduct = flow?.word === 'out';
      const written = `${figure.text} ${figure.unit?.symbol ?? ''}`.trim();
      yield {
        place: amount.place,
        says: isProduct
          ? `A weight of ${written} says that there was none. Write \`none\` if so, and \`?\` for a weight that is still to come.`
          : `A weight of ${written} says that there was nothing. Write \`?\` for a weight that is still to come.`,
        fixes: isProduct && flow.kind ? [noneInstead(flow, amount)] : [],
      };
    }
  },
});

const WORDS: ReadonlySet<Flow['word']> = new Set(['in', 'add', 'out']);
const VERBS: ReadonlySet<string> = new Set(['receive', 'weigh', 'discard']);

/** Weights that say how much there is. */
const weightsOf = (entry: Entry): readonly { readonly amount: Amount; readonly flow?: Flow }[] => {
  const own = VERBS.has(entry.verb) ? [entry.amount, ...entry.amounts.map(({ amount }) => amount)] : [];
  const heads = [...new Set(own)].flatMap((amount) => (amount ? [{ amount }] : []));
  const flows = entry.flows.flatMap((flow) =>
    flow.amount && WORDS.has(flow.word) ? [{ amount: flow.amount, flow }] : [],
  );
  return [...heads, ...flows];
};

/** `out 0 g slag` to `out none slag`, its name too where it has one. */
const noneInstead = ({ place, kind }: Flow, amount: Amount): Fix => ({
  title: `Write \`none ${kind}\``,
  edits: [{ at: { ...place, start: place.start, end: Math.max(place.start, amount.place.end) }, text: 'out none' }],
  safe: false,
});
