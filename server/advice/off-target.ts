/** What came out against what it was to hold. */
import { spread } from '../engine/accounts/inexact';
import type { Known } from '../engine/accounts/known';
import { additionFor } from '../engine/bench/alloy';
import { exactly } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import { targetOf } from '../engine/target';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { groundWords, shareWords } from '../reports/fine';
import type { Advice, Topic } from './advice';
import { isShortOfTarget } from './alloy';
import { type Job, knowledgeOf } from './job';
import { markAssumption, nameOf, shareFigure, type Wanted, wantedOf, wantedWords } from './target';

export const offTarget: Topic = (job) =>
  job.planned && isShortOfTarget(job) ? [] : (job.step?.outputs ?? []).flatMap((output) => ofProduct(job, output));

/**
 * Nearer than this nothing is worth a word: three parts in a thousand, as plumb-gold law allows jewellery (quoted by a gem-trade study of assay
 * methods).
 */
const PLUMB = 0.003;

const ofProduct = (job: Job, output: FlowWeight): readonly Advice[] => {
  const target = targetOf(job.entry, output.flow);
  if (!target || output.flow.none) return [];
  const known = knowledgeOf(job, output.flow);
  for (const wanted of wantedOf(target)) {
    const one = known.get(wanted.symbol);
    const off = one && offOf(job, one, wanted);
    if (!one?.share || off === undefined) continue;
    const says = `${output.flow.lot?.name ?? 'It'} holds ${nameOf(wanted.symbol)} ${shareWords(one.share, one.ground)}, ${groundWords(one.ground, one.by)}, and was to hold ${wantedWords([wanted])}.${mend(output, one.share.value, wanted)}`;
    return [
      {
        topic: `target ${output.flow.place.start}`,
        at: output.flow.place,
        rank: 'doubt',
        working: () => ({ says, assumed: markAssumption(wanted) }),
        wrong: [
          {
            code: 'off-target',
            place: output.flow.lot?.place ?? output.flow.place,
            says,
            related: [{ place: target.place, says: 'the target' }],
          },
        ],
      },
    ];
  }
  return [];
};

/** So far off, beyond what the figures leave open. A guess proves nothing, and may be the target itself. */
const offOf = ({ workspace }: Job, { share, ground }: Known, { share: { low, high } }: Wanted): number | undefined => {
  if (!share || ground === 'guessed') return undefined;
  const reach = PLUMB + workspace.workshop.limits.coverage * spread(share);
  if (share.value < low - reach) return share.value - low;
  return share.value > high + reach ? share.value - high : undefined;
};

const mend = ({ mass }: FlowWeight, share: number, { symbol, share: aim }: Wanted): string => {
  if (!mass) return '';
  const isShort = share < aim.best;
  const found = additionFor(mass.value.toNumber(), exactly(share), aim.best, isShort ? 1 : 0);
  if (!found.value) return '';
  const grams = `${showDigits(decimal(found.value.addGrams.best), 3)} g`;
  return isShort
    ? ` ${grams} of fine ${nameOf(symbol)} would bring it up; do not mark it above its assay.`
    : ` ${grams} of other metal would bring it down to ${shareFigure(aim.best)}.`;
};
