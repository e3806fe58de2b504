/** Acid where of the silver only what was added is known: for that much at the least. */
import { acidFor } from '../engine/bench/acid';
import { assume, COMMON_PRACTICE, type Estimate, exactly, sumOf, times } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import { type AcidWritten, acidUsed, bottleOf, perGramWords } from './acid-of';
import type { Advice, Working, Writing } from './advice';
import { bornIn } from './born';
import { addedMetals, contentsOf, type Job } from './job';
import { bestWords, estimateWords, guessWords } from './words';

const MELTED: ReadonlySet<string> = new Set(['melt', 'cast']);
/** Of silver that was melted in, so much is still there at the least: common practice, as metal alone is lost in a melt. */
const KEPT: Estimate = { low: 0.97, best: 1, high: 1 };

/** Silver that is there whatever the lots held of their own, g; none where nothing was added. */
export const silverAtLeast = (job: Job): Estimate | undefined => {
  const parts = (job.step?.inputs ?? []).flatMap((input) => atLeastIn(job, input) ?? []);
  const all = parts.length > 0 ? sumOf(parts) : undefined;
  return all && all.best > 0 ? all : undefined;
};

const atLeastIn = (job: Job, input: FlowWeight): Estimate | undefined => {
  const known = contentsOf(job, input, 'before')?.metals.get('Ag');
  if (known) return known;
  const born = bornIn(job, input, MELTED);
  const added = born && addedMetals(born.made).get('Ag');
  return added ? times(KEPT, added * born.part) : undefined;
};

/** Of a plan; its acid and water are written in where they are left open. */
export const acidAtLeast = (job: Job, written: AcidWritten): readonly Advice[] => {
  const silver = silverAtLeast(job);
  if (!silver || !job.planned) return [];
  const bottle = bottleOf(job, written);
  const wanted = acidFor(new Map([['Ag', silver]]), bottle, acidUsed(written, bottle));
  if (wanted.value === undefined) return [];
  const { acidMillilitres, waterMillilitres } = wanted.value;
  const least = exactly(acidMillilitres.best);
  const at = written.lines[0]?.flow.place ?? job.entry.head;
  const working = (): Working => ({
    says: `For the silver that was added ${bestWords(least, 'mL')} of ${bottle.name} at least; silver and base metal that the lot held of its own want more: begin with this, and add when it is quiet.`,
    rows: [
      `silver added      ${estimateWords(silver, 'g')} ${perGramWords('Ag')}`,
      `  acid            ${estimateWords(acidMillilitres, 'mL')}`,
    ],
    assumed: [...wanted.assumed, assume('of silver melted in at least 97 % is still there', COMMON_PRACTICE)],
    todo: 'Assay it for gold and silver to have all of it.',
  });
  const writes: Writing[] = [];
  const open = written.lines.find(({ flow }) => !flow.amount?.figure)?.flow;
  const range = `${bottle.name} at least ${bestWords(least, 'mL')}`;
  if (open) writes.push({ flow: open, amount: guessWords(least, 'mL'), range });
  else if (written.lines.length === 0)
    writes.push({ part: 'add', line: `add ${bottle.name} ${guessWords(least, 'mL')}`, range });
  const water = written.water.find(({ flow }) => !flow.amount?.figure)?.flow;
  const amount = guessWords(exactly(waterMillilitres.best), 'mL');
  if (water) writes.push({ flow: water, amount, range: `water ${amount}` });
  else if (written.lines.length === 0 && waterMillilitres.best > 0)
    writes.push({ part: 'add', line: `add water ${amount}`, range: `water ${amount}` });
  const same = { topic: 'acid', at, working } as const;
  return writes.length > 0
    ? [{ ...same, rank: 'result', writes }]
    : [{ ...same, label: `acid: ${bestWords(least, 'mL')} at least`, rank: 'extra' }];
};
