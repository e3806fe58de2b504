/** A product whose weight stands nowhere. */
import type { LotStory } from '../engine/book';
import type { Flow } from '../engine/entry';
import { rule } from './rule';

export const productNotWeighed = rule({
  code: 'product-not-weighed',
  severity: 'hint',
  atOnce: false,
  title: 'a product without a weight',
  why: 'What was not weighed cannot be checked: its weight is taken from the balance, and a slip anywhere else in the step hides in it. Weigh it, or write `?` if that is still to come.',
  wrong: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B bar',
  right: '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar',
  entry: function* ({ entry, step, lots }) {
    if (!step || entry.prefix === 'plan') return;
    for (const flow of entry.flows) {
      if (flow.word !== 'out' || flow.none || hasAmount(flow) || !flow.lot) continue;
      if (weighedLater(lots.get(flow.lot.name))) continue;
      const solved = step.solved?.flow === flow;
      yield {
        place: flow.lot.place,
        says: solved
          ? `${flow.lot.name} was not weighed: its weight is what the balance leaves, and nothing checks it.`
          : `${flow.lot.name} was not weighed.`,
      };
    }
  },
});

const hasAmount = ({ amount, said }: Flow): boolean =>
  amount !== undefined || (said.before !== undefined && said.after !== undefined);

const weighedLater = (story: LotStory | undefined): boolean =>
  story?.events.some(({ weight }) => weight.ground === 'weighed' || weight.volume !== undefined) ?? false;
