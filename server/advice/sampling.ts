/** Where to take a sample of metal: a bar of gold, silver and copper is alike all through, one with other base metal is not. */
import { assume, COMMON_PRACTICE, type Estimate, over, sumOf } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import { isMetalKind } from '../engine/charge';
import type { Topic, Working } from './advice';
import { baseOf } from './base';
import { contentsOf, type Job } from './job';
import { percentWords } from './words';

/** From this share of lead and base metal other than copper on a bar segregates: a guess. */
const SEGREGATES = 0.02;

export const sampling: Topic = (job) => {
  const { entry, planned, workspace } = job;
  if (!planned || entry.verb !== 'sample' || !entry.name) return [];
  const last = workspace.book.lot(entry.name.name)?.events.findLast(({ flow }) => flow !== undefined);
  const made = last?.flow && workspace.book.make(last.flow);
  if (!last?.flow || !made?.kind || !isMetalKind(made.kind)) return [];
  const metal: FlowWeight | undefined = last.weight.mass
    ? ({ ...last.weight, flow: last.flow } as FlowWeight)
    : undefined;
  const open = metal && openShare(job, metal);
  const isBase = open === undefined || open.best > SEGREGATES;
  const working = (): Working => ({
    says: open
      ? `Lead and base metal other than copper, or that nobody named, are ${percentWords(open)} of it.`
      : 'What base metal it holds is not known.',
    assumed: [
      assume(
        'base-metal bars segregate; gold-silver and gold-copper well stirred do not',
        'The Sampling of Gold Bullions, 1913',
      ),
      assume(
        'pin and dip samples of molten metal stand for it better than drillings',
        'a trade association: Assaying Basics',
      ),
      assume('from 2 % of such metal on a bar is taken to segregate', 'a guess'),
      assume("samples of both faces, three sealed sets: theirs, ours, the umpire's", COMMON_PRACTICE),
    ],
    todo: isBase
      ? 'Melt and stir it, and take a pin or dip sample molten; else drill both faces at several places, and weigh every sample: it leaves the lot.'
      : 'Drill both faces, and weigh every sample: it leaves the lot.',
  });
  const label = isBase ? 'may segregate: stir, sample molten' : 'alike all through: drill both faces';
  return [{ topic: 'sampling', at: entry.head, label, rank: 'extra', working }];
};

/** Lead, base metal other than copper, and what nobody named, as a share. */
const openShare = (job: Job, metal: FlowWeight): Estimate | undefined => {
  const contents = contentsOf(job, metal);
  const base = contents && baseOf(contents);
  if (!contents || !base?.grams) return undefined;
  const copper = contents.metals.get('Cu');
  const others = copper
    ? {
        low: Math.max(0, base.named.low - copper.high),
        best: Math.max(0, base.named.best - copper.best),
        high: Math.max(0, base.named.high - copper.low),
      }
    : base.named;
  return over(sumOf([base.lead, base.unknown, others]), contents.grams.best);
};
