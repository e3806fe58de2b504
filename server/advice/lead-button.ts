/** A fusion with litharge: the lead button that its flour or charcoal brings down, and what to add for one. */
import { LEAD_IN_LITHARGE, LEAD_IN_RED_LEAD } from '../engine/bench/flux';
import { reducingPower } from '../engine/bench/oxidation';
import { assume, BERINGER, type Estimate, exactly, FROM_MEMORY, over } from '../engine/bench/result';
import type { Flow } from '../engine/entry';
import type { Advice, Topic, Working } from './advice';
import { isAllWeighed, type Job } from './job';
import { type LeadBook, leadBook, leadBy, leadFrom } from './lead-from';
import { isOf, openAdds, type Smelt, smeltOf } from './smelt';
import { bestWords, estimateWords, guessWords, rangeWords } from './words';

const TOPIC = 'lead button';

/** Beringer's quartz charge has 4 g flour, each bringing down 11.2 g lead, to 75 g litharge; the rest is flux. */
const LEAD_PER_LITHARGE = (4 * 11.2) / 75;
/** Litharge that holds as much lead, g a gram. */
const AS_LITHARGE: ReadonlyMap<string, number> = new Map([
  ['litharge', 1],
  ['red-lead', LEAD_IN_RED_LEAD / LEAD_IN_LITHARGE],
]);
const AGENTS: readonly string[] = ['flour', 'charcoal', 'tartar'];
const REDUCTANT: ReadonlySet<string> = new Set(['reductant']);

export const leadCollected: Topic = (job) => {
  const smelt = smeltOf(job);
  if (!smelt) return [];
  const litharge = lithargeIn(smelt);
  if (!(litharge > 0)) return [];
  const open = openAgent(job);
  if (isAgentWanted(job, open)) return [wanted(job, litharge, open)];
  const found = leadFrom(smelt);
  if (!found || !isAllWeighed(job)) return [];
  const working = (): Working => ({
    says: `The charge brings down a lead button of ${rangeWords(found.grams, 'g')}.`,
    rows: buttonRows(leadBook(smelt), litharge, found.grams),
    assumed: found.assumed,
  });
  const label = job.planned ? { label: `lead button ${rangeWords(found.grams, 'g')}` } : {};
  return [{ topic: TOPIC, at: job.entry.head, ...label, rank: 'extra', working }];
};

const buttonRows = (book: LeadBook, litharge: number, button: Estimate): readonly string[] => [
  `litharge          ${rangeWords(exactly(litharge), 'g')}, ${rangeWords(exactly(book.available), 'g')} of it lead`,
  ...[...book.agents].map(([agent, grams]) => {
    const power = reducingPower(agent)!.leadPerGram;
    return `${agent.padEnd(17)} ${bestWords(exactly(grams), 'g')} × ${power.best} = ${bestWords(exactly(grams * power.best), 'g')}`;
  }),
  ...(book.ferric > 0 ? [`ferric iron takes ${bestWords(exactly(book.ferric), 'g')}`] : []),
  `lead button       ${estimateWords(button, 'g')}`,
];

/** As litharge, g. */
const lithargeIn = ({ added }: Smelt): number =>
  added.reduce((so, { material, massGrams }) => so + massGrams * (AS_LITHARGE.get(material.name) ?? 0), 0);

const openAgent = (job: Job): Flow | undefined =>
  openAdds(job.entry).find(({ material }) => AGENTS.includes(material!.name));

const isAgentWanted = (job: Job, open: Flow | undefined): boolean => {
  if (!job.planned || open) return job.planned;
  return !job.entry.flows.some(({ word, material }) => word === 'add' && isOf(job, material?.name ?? '', REDUCTANT));
};

/** Before it stands there it is not known how much of the litharge is flux. */
export const isAgentToCome = (job: Job): boolean => {
  const smelt = smeltOf(job);
  const litharge = smelt ? lithargeIn(smelt) : 0;
  if (!smelt || !(litharge > 0)) return false;
  const open = openAgent(job);
  if (!isAgentWanted(job, open)) return false;
  return isWorth(over(exactly(needOf(job, litharge).lacks), reducingPower(agentOf(open))!.leadPerGram));
};

const wanted = (job: Job, litharge: number, open: Flow | undefined): Advice => {
  const agent = agentOf(open);
  const { aim, own, taken, ferric, lacks } = needOf(job, litharge);
  const power = reducingPower(agent)!;
  const need: Estimate = over(exactly(lacks), power.leadPerGram);
  const range = `${agent} ${rangeWords(need, 'g')}`;
  const amount = guessWords(need, 'g');
  return {
    topic: TOPIC,
    at: open?.place ?? job.entry.head,
    rank: 'result',
    working: () => ({
      says:
        lacks > 0
          ? `For a lead button of about ${rangeWords(exactly(aim), 'g')} add ${rangeWords(need, 'g')} of ${agent}.`
          : `What the charge holds brings down a lead button of ${rangeWords(exactly(aim), 'g')} and more.`,
      rows: [
        `litharge          ${rangeWords(exactly(litharge), 'g')}`,
        `button            4 × 11.2/75 × litharge = ${rangeWords(exactly(aim), 'g')}`,
        ...(own > 0 ? [`the ore's own     ${rangeWords(exactly(own), 'g')}`] : []),
        ...(taken > 0 ? [`oxidisers take    ${rangeWords(exactly(taken), 'g')}`] : []),
        ...(ferric > 0 ? [`ferric iron takes ${rangeWords(exactly(ferric), 'g')}`] : []),
        `lead wanted       ${rangeWords(exactly(lacks), 'g')}`,
        `${agent.padEnd(17)} lead wanted / ${power.leadPerGram.best} = ${estimateWords(need, 'g')}`,
      ],
      assumed: [
        assume(`${agent} brings down ${power.leadPerGram.best} g lead a gram`, power.source),
        assume('4 g flour to 75 g litharge, the rest of it being flux', `quartz charge, ${BERINGER}`),
        ...(ferric > 0 ? [assume('magnetite and ferric oxide go to FeO before lead comes down', FROM_MEMORY)] : []),
      ],
    }),
    ...(isWorth(need)
      ? {
          writes: [
            open ? { flow: open, amount, range } : { part: 'add' as const, line: `add ${agent} ${amount}`, range },
          ],
        }
      : {}),
  };
};

/** Less than this nobody weighs out for a crucible, g. */
const LEAST_GRAMS = 0.05;

const isWorth = ({ best }: Estimate): boolean => best >= LEAST_GRAMS;

const agentOf = (open: Flow | undefined): string => open?.material?.name ?? 'flour';

/** Lead for the button, what the charge brings of it already, and what is lacking, g. */
const needOf = (job: Job, litharge: number): Readonly<Record<'aim' | 'own' | 'taken' | 'ferric' | 'lacks', number>> => {
  const book = leadBook(smeltOf(job)!);
  const aim = LEAD_PER_LITHARGE * litharge;
  const [own, taken] = [leadBy(book, 'reduces'), leadBy(book, 'oxidises')];
  return { aim, own, taken, ferric: book.ferric, lacks: Math.max(0, aim + taken + book.ferric - own) };
};
