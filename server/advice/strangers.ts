/** What a cupel or an acid does not take as it takes copper: platinum metals that stay, tin and nickel that spoil it. */

import { assume, type Estimate, over } from '../engine/bench/result';
import { IN_CUPEL, IN_PARTING, LEAST_SOURCE, type Stranger } from '../engine/bench/strangers';
import { element } from '../vocabulary/elements';
import { acidWritten } from './acid-of';
import type { Topic, Wrong } from './advice';
import { beadOf } from './cupelled';
import { type Contents, chargedOf, type Job } from './job';
import { estimateWords, percentWords } from './words';

export const strangers: Topic = (job) => {
  const step = stepOf(job);
  // Back from the bead, what stayed in it would be told as what went in.
  const charged = step && chargedOf(job, 'before');
  if (!step || !charged || !(charged.grams.best > 0)) return [];
  const found = step.of.flatMap((stranger): readonly Found[] => {
    const grams = charged.metals.get(stranger.symbol);
    return grams && grams.best >= stranger.least * charged.grams.best
      ? [{ ...stranger, grams, share: over(grams, charged.grams.best) }]
      : [];
  });
  const spoiling = found.filter((one) => one.spoils && one.share.low >= one.least);
  const [first] = [...spoiling, ...found];
  if (!first) return [];
  const isWrong = spoiling.length > 0 && !beadOf(job)?.isClean;
  const at = job.entry.flows.find(({ word }) => word === 'in')?.place ?? job.entry.head;
  const wrong = isWrong ? [wrongOf(step.code, at, spoiling, charged)] : [];
  const isTold = job.planned || isWrong;
  return [
    {
      topic: 'other metals',
      at,
      ...(isTold ? { label: labelOf(first, step.where), short: `${first.symbol} ${percentWords(first.share)}` } : {}),
      rank: isWrong ? 'doubt' : 'extra',
      working: () => ({
        says: found.map(saysOf).join(' '),
        rows: found.map(
          ({ symbol, grams, share }) =>
            `${nameOf(symbol).padEnd(17)} ${estimateWords(grams, 'g')}, ${percentWords(share)} of what goes in`,
        ),
        assumed: [
          ...found.map(({ symbol, does, source }) => assume(`${nameOf(symbol)} ${does}`, source)),
          ...(spoiling.length > 0 ? [assume(leastWords(spoiling), LEAST_SOURCE)] : []),
        ],
        todo: todoOf(found),
      }),
      wrong,
    },
  ];
};

interface Found extends Stranger {
  readonly grams: Estimate;
  readonly share: Estimate;
}

interface StepHere {
  readonly of: readonly Stranger[];
  readonly code: string;
  readonly where: string;
}

const CUPEL: StepHere = { of: IN_CUPEL, code: 'spoils-cupel', where: 'the cupel' };
const PARTING: StepHere = { of: IN_PARTING, code: 'spoils-parting', where: 'the parting' };

const stepOf = (job: Job): StepHere | undefined => {
  const { verb } = job.entry;
  if (verb === 'cupel') return CUPEL;
  // Two acids together dissolve tin and platinum otherwise.
  return verb === 'part' || (verb === 'dissolve' && !acidWritten(job).isMixed) ? PARTING : undefined;
};

const nameOf = (symbol: string): string => element(symbol)?.name ?? symbol;

const labelOf = ({ symbol, share, spoils }: Found, where: string): string => {
  const what = `${nameOf(symbol)} ${percentWords(share)}`;
  if (spoils) return `${what} spoils ${where}`;
  return `${what}: see where it goes`;
};

const saysOf = ({ symbol, does }: Found): string => {
  const name = nameOf(symbol);
  return `${name[0]!.toUpperCase()}${name.slice(1)} ${does}.`;
};

const todoOf = (found: readonly Found[]): string => {
  const all = [...new Set(found.flatMap(({ todo }) => todo ?? []))];
  return all.length > 0 ? all.join(' ') : 'Count it as what comes out, and not as gold or silver: assay for it.';
};

const leastWords = (spoiling: readonly Found[]): string =>
  `told from ${spoiling.map(({ symbol, least }) => `${100 * least} % of ${nameOf(symbol)}`).join(', ')} on`;

const wrongOf = (
  code: string,
  place: Wrong['place'],
  spoiling: readonly Found[],
  { guessed, by }: Contents,
): Wrong => ({
  code,
  place,
  says: `${guessed ? 'By what was said of it ' : ''}${spoiling
    .map(({ symbol, share, does }) => `${percentWords(share)} of the charge is ${nameOf(symbol)}, which ${does}`)
    .join('; ')}. ${todoOf(spoiling)}`,
  related: by.map((entry) => ({ place: entry.head, says: 'this tells of its metals' })),
});
