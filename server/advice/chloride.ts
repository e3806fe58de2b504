/** Silver chloride melted to metal: soda for it, and less than it needs. */
import { CHLORIDE_ASSUMED, chlorideGrams, SODA_PER_CHLORIDE } from '../engine/bench/chloride';
import { assume, BERINGER, COMMON_PRACTICE, type Estimate, exactly, FROM_MEMORY, times } from '../engine/bench/result';
import type { Flow } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import { massFraction } from '../vocabulary/compounds';
import type { Topic, Working } from './advice';
import type { Job } from './job';
import { isChloride, smeltOf } from './smelt';
import { estimateWords, guessWords, rangeWords, termWords } from './words';

export const chloride: Topic = (job) => {
  const smelt = job.planned && job.entry.verb === 'melt' ? smeltOf(job) : undefined;
  if (!smelt || smelt.unknown.length > 0 || !isChloride(smelt)) return [];
  const grams = exactly(chlorideGrams(smelt.feed));
  const wanted = times(PER_GRAM, grams);
  const line = job.entry.flows.find((flow) => isSoda(job, flow));
  const working = (): Working => ({
    says: `Mix it dry with ${rangeWords(wanted, 'g')} of soda ash and fuse it: ${rangeWords(times(grams, massFraction('AgCl', 'Ag')), 'g')} of silver are in it.`,
    rows: [
      `silver chloride   ${termWords(grams.best, 'g')}`,
      `  of it silver    × ${massFraction('AgCl', 'Ag').toFixed(4)} = ${rangeWords(times(grams, massFraction('AgCl', 'Ag')), 'g')}`,
      `soda by equation  × ${SODA_PER_CHLORIDE.toFixed(3)} = ${rangeWords(exactly(grams.best * SODA_PER_CHLORIDE), 'g')}`,
      `soda ash          chloride × ${PER_GRAM.best} (${PER_GRAM.low.toFixed(2)}..${PER_GRAM.high}) = ${estimateWords(wanted, 'g')}`,
    ],
    assumed: [
      CHLORIDE_ASSUMED,
      assume(
        'mixed dry with twice its bulk of soda, which is 0.8 to 1.5 times its weight: chloride lies at 1.5 to 2.5 g/mL, soda ash at 0.6 to 1.05',
        `${BERINGER}; bulk densities ${FROM_MEMORY}`,
      ),
      assume('the salt that comes of it covers the metal and fumes', COMMON_PRACTICE),
    ],
    todo: 'Wash it free of acid and dry it first. Heat slowly, for it foams, and never bring it together with ammonia.',
  });
  const same = { topic: 'chloride', at: line?.place ?? job.entry.head, working } as const;
  if (line?.amount?.figure) return [{ ...same, label: `soda wanted ${rangeWords(wanted, 'g')}`, rank: 'extra' }];
  const [amount, range] = [guessWords(wanted, 'g'), `soda-ash ${rangeWords(wanted, 'g')}`];
  const write = line ? { flow: line, amount, range } : { part: 'add' as const, line: `add soda-ash ${amount}`, range };
  return [{ ...same, rank: 'result', writes: [write] }];
};

/** From the equation to twice the bulk, of chloride that lies at 1.5 to 2.5 g/mL and soda ash at about one. */
const PER_GRAM: Estimate = { low: SODA_PER_CHLORIDE, best: 1, high: 1.5 };

const isSoda = ({ workspace: { workshop } }: Job, { word, material }: Flow): boolean =>
  word === 'add' &&
  material !== undefined &&
  (findMaterial(workshop, material.name)?.composition.some(
    ({ what, fraction }) => what === 'Na2CO3' && fraction > 0.9,
  ) ??
    false);
