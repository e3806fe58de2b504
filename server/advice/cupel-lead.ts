/** Lead for a cupellation: what the base metal of the charge wants, against what is written. */
import { type LeadAdvice, leadFor } from '../engine/bench/cupel-lead';
import type { Estimate, Result } from '../engine/bench/result';
import type { Flow } from '../engine/entry';
import type { Advice, Topic, Working } from './advice';
import { addedMetals, type Contents, chargedOf, type Job } from './job';
import { bestWords, estimateWords, guessWords, percentWords, rangeWords } from './words';

export const cupelLead: Topic = (job) => {
  const { entry } = job;
  if (entry.verb !== 'cupel') return [];
  const charged = chargedOf(job);
  if (!charged || !(charged.grams.best > 0)) return [];
  const need = needOf(charged);
  if (need.value === undefined) return [];
  const { value } = need;
  const { addGrams } = value;
  const flow = entry.flows.find(
    ({ word, material }) => word === 'add' && material !== undefined && LEADS.has(material.name),
  );
  const added = addedMetals(job).get('Pb') ?? 0;
  const working = (): Working => ({ ...workingOf(charged, value, added), assumed: need.assumed });
  const at = flow?.place ?? entry.head;
  // Of what was done only what is amiss is worth a word.
  if (added > 0 && !job.planned) return [];
  if (added > 0)
    return [{ topic: TOPIC, at, label: `lead wanted ${rangeWords(addGrams, 'g')}`, rank: 'extra', working }];
  return job.planned ? [missing(job, flow, addGrams, working)] : [];
};

const TOPIC = 'lead';

const LEADS: ReadonlySet<string> = new Set(['lead', 'test-lead']);

const needOf = ({ grams, metals, precious }: Contents): Result<LeadAdvice> => {
  const mass = grams.best;
  const share = (symbol: string): number | undefined => {
    const metal = metals.get(symbol);
    return metal && metal.best / mass;
  };
  const lead = share('Pb') ?? 0;
  const base = precious ? Math.max(0, 1 - precious.best / mass - lead) : undefined;
  return leadFor({ grams: mass, gold: share('Au'), silver: share('Ag'), base, lead });
};

const missing = (job: Job, flow: Flow | undefined, need: Estimate, working: () => Working): Advice => {
  const range = `lead ${rangeWords(need, 'g')}`;
  const amount = guessWords(need, 'g');
  return {
    topic: TOPIC,
    at: flow?.place ?? job.entry.head,
    rank: 'result',
    working,
    writes: [flow ? { flow, amount, range } : { part: 'add', line: `add lead ${amount}`, range }],
  };
};

const workingOf = (charged: Contents, { addGrams, by }: LeadAdvice, added: number): Omit<Working, 'assumed'> => {
  const { grams, metals, precious } = charged;
  const rows = [`charge            ${bestWords(grams, 'g')}`];
  if (precious) rows.push(`gold and silver   ${estimateWords(precious, 'g')}`);
  for (const [symbol, metal] of metals) rows.push(`  ${symbol.padEnd(16)}${estimateWords(metal, 'g')}`);
  rows.push(`lead wanted       ${estimateWords(addGrams, 'g')}`);
  if (added > 0) rows.push(`lead written      ${bestWords({ low: added, best: added, high: added }, 'g')}`);
  const says =
    by === 'unknown base metal'
      ? `Base metal in the charge is not known: begin with about its own weight of lead, ${bestWords(addGrams, 'g')}, and add more if the bead does not brighten.`
      : `For ${percentWords(baseShare(charged))} base metal the charge wants ${rangeWords(addGrams, 'g')} of lead.`;
  return { says, rows };
};

const baseShare = ({ grams, precious }: Contents): Estimate => {
  const noble = precious ?? { low: 0, best: 0, high: 0 };
  const of = (part: number): number => Math.min(1, Math.max(0, 1 - part / grams.best));
  return { low: of(noble.high), best: of(noble.best), high: of(noble.low) };
};
