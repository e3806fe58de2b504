/** Slag of the journal's own melts, melted again: it is fluid as it was, or wants soda or silica to its degree. */
import { charcoalForLead, LEAD_IN_LITHARGE, toDegree } from '../engine/bench/flux';
import { assume, COMMON_PRACTICE, type Estimate, times } from '../engine/bench/result';
import { slagOf } from '../engine/bench/slag';
import type { Advice, Topic, Working, Writing } from './advice';
import { isCollectorToCome } from './collector';
import type { Job } from './job';
import { isAgentToCome } from './lead-button';
import { leadFrom } from './lead-from';
import { slagAim } from './slag-aim';
import { isOf, isSlagAgain, type Smelt, smeltOf } from './smelt';
import { bestWords, estimateWords, guessWords, rangeWords, termWords } from './words';

export const slagAgain: Topic = (job) => {
  const smelt = job.planned && job.entry.verb === 'melt' ? smeltOf(job) : undefined;
  if (!smelt || smelt.unknown.length > 0 || smelt.feed.length === 0 || !smelt.feed.every(isSlagAgain)) return [];
  return isCollectorToCome(job) || isAgentToCome(job) ? [] : [told(job, smelt)];
};

const REDUCTANT: ReadonlySet<string> = new Set(['reductant']);
/** From this share of litharge on its lead is worth bringing down: a guess, as for a feed with lead in it. */
const LEAD_SLAG = 0.05;

/** Gold that slag of good melts still held after panning, g a kg. */
const LEFT_PER_KG = { low: 0.6, best: 0.65, high: 0.7 };

const told = (job: Job, smelt: Smelt): Advice => {
  const { feed, added } = smelt;
  const grams = feed.reduce((so, { massGrams }) => so + massGrams, 0);
  const own = slagOf(feed).oxideGrams.get('PbO')?.best ?? 0;
  // Lead that a slag holds is brought down, and collects, unless what brings it down stands there already.
  const isLeaded = own > LEAD_SLAG * grams && !added.some(({ material }) => isOf(job, material.name, REDUCTANT));
  const charcoal = charcoalForLead(own * LEAD_IN_LITHARGE);
  const lead = isLeaded ? own * LEAD_IN_LITHARGE : (leadFrom(smelt)?.grams.best ?? 0);
  const slag = slagOf([...feed, ...added], { leadReducedGrams: lead });
  const aim = slagAim(job);
  const { degree } = aim;
  const isRight = slag.degree !== undefined && slag.degree.best >= degree.low && slag.degree.best <= degree.high;
  const { sodaAshGrams, silicaGrams } = toDegree(slag, aim);
  const isAcid = sodaAshGrams.best > 0;
  const [what, more] = isAcid ? (['soda-ash', sodaAshGrams] as const) : (['silica', silicaGrams] as const);
  const from = [...new Set(feed.map(({ material }) => material.name))].join(', ');
  const figure = slag.degree?.best.toFixed(1) ?? 'without a base';
  const isMore = !isRight && more.best > 0.01 * grams;
  const working = (): Working => ({
    says: `It is ${from}, of silicate degree ${figure} by what was charged: ${isMore ? `${bestWords(more, 'g')} of ${what} brings it to ${degree.best}` : 'it melts again as it is'}.`,
    rows: [
      ...[...slag.oxideGrams].map(([oxide, of]) => `${oxide.padEnd(18)}${estimateWords(of, 'g')}`),
      `degree            ${termWords(slag.acidOxygen.best, '')} mol acid / ${termWords(slag.baseOxygen.best, '')} mol base oxygen = ${figure}`,
      ...(isLeaded
        ? [`its lead          ${termWords(lead, 'g')}, by charcoal at 22.6 g a gram: ${estimateWords(charcoal, 'g')}`]
        : []),
      ...(isMore ? [`for a degree of ${degree.best} add ${what} ${estimateWords(more, 'g')}`] : []),
      `gold in such slag ${rangeWords(times(LEFT_PER_KG, grams / 1000), 'g')}, perhaps`,
    ],
    assumed: [
      ...slag.assumed,
      assume(
        'slag of good melts, panned, still held 0.6 to 0.7 g of gold a kg',
        'about 20 ozt a ton: T. K. Rose, The Metallurgy of Gold',
      ),
      assume('prills are crushed and panned out of it, and the rest is melted with a collector', COMMON_PRACTICE),
    ],
    todo: `Crush it wet or under a mask, and pan out the prills first: what is left wants a collector${isLeaded ? ', for which its own lead will do' : ''}.`,
  });
  const writes: Writing[] = [];
  const put = (name: string, of: Estimate): void => {
    writes.push({ part: 'add', line: `add ${name} ${guessWords(of, 'g')}`, range: `${name} ${rangeWords(of, 'g')}` });
  };
  if (isLeaded) put('charcoal', charcoal);
  if (isMore) put(what, more);
  const at = job.step!.inputs[0]!.flow.place;
  return {
    topic: 'slag again',
    at,
    rank: 'result',
    working,
    writes,
    ...(writes.length > 0 ? {} : { label: `${from}: melts as it is`, short: from }),
  };
};
