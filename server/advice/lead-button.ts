/** A fusion with litharge: the lead button that its flour or charcoal brings down, and what to add for one. */
import { LEAD_IN_LITHARGE, LEAD_IN_RED_LEAD } from '../engine/bench/flux';
import { powerGround, reducingPower } from '../engine/bench/oxidation';
import {
  type Assumption,
  assume,
  BERINGER,
  type Estimate,
  exactly,
  FROM_MEMORY,
  less,
  over,
  sumOf,
  times,
} from '../engine/bench/result';
import type { Flow } from '../engine/entry';
import type { Advice, Topic, Working } from './advice';
import { isAllWeighed, type Job } from './job';
import { type LeadBook, leadBook, leadFrom } from './lead-from';
import { niterBeyond, tooMuchNiter } from './niter-room';
import { isOf, openAdds, type Smelt, smeltOf } from './smelt';
import { NITERS } from './sulphur-taken';
import { bestWords, estimateWords, guessWords, rangeWords, termWords } from './words';

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
  const niter = openNiter(job);
  if (niter) return niterFor(job, litharge, niter);
  const open = openAgent(job);
  if (isAgentWanted(job, open)) return [wanted(job, litharge, open)];
  const found = leadFrom(smelt);
  if (!found || !isAllWeighed(job)) return [];
  const working = (): Working => ({
    says: `The charge brings down a lead button of ${rangeWords(found.grams, 'g')}.`,
    rows: buttonRows(leadBook(smelt), litharge, found.grams),
    assumed: [...found.assumed, ...(leadBook(smelt).ferric.best > 0 ? [FERRIC] : [])],
  });
  const label = job.planned ? { label: `lead button ${rangeWords(found.grams, 'g')}` } : {};
  return [{ topic: TOPIC, at: job.entry.head, ...label, rank: 'extra', working }];
};

const buttonRows = (book: LeadBook, litharge: number, button: Estimate): readonly string[] => [
  `litharge          ${rangeWords(exactly(litharge), 'g')}, ${rangeWords(exactly(book.available), 'g')} of it lead`,
  ...[...book.agents].map(([agent, grams]) => {
    const { low, best, high } = reducingPower(agent)!.leadPerGram;
    const power = best < 0 ? { low: -high, best: -best, high: -low } : { low, best, high };
    return `${agent.padEnd(17)} ${bestWords(exactly(grams), 'g')} × ${powerWords(agent)} = ${estimateWords(times(power, grams), 'g')}${best < 0 ? ' less' : ''}`;
  }),
  ...ferricRow(book),
  `lead button       ${estimateWords(button, 'g')}`,
];

/** As litharge, g. */
const lithargeIn = ({ added }: Smelt): number =>
  added.reduce((so, { material, massGrams }) => so + massGrams * (AS_LITHARGE.get(material.name) ?? 0), 0);

const openAgent = (job: Job): Flow | undefined =>
  openAdds(job.entry).find(({ material }) => AGENTS.includes(material!.name));

/** `11.2 (10..12)`, `4 (3.2..5.3)`. */
const powerWords = (agent: string): string => {
  const { low, best, high } = reducingPower(agent)!.leadPerGram;
  const [least, most] = [low, high].map(Math.abs).sort((a, b) => a - b);
  return `${Math.abs(best)} (${least}..${most})`;
};

const ferricRow = ({ ferric }: LeadBook): readonly string[] =>
  ferric.best > 0
    ? [
        `ferric iron takes ${termWords(ferric.best / reducingPower('charcoal')!.leadPerGram.best, 'g')} of charcoal, which would bring down × 22.6 = ${estimateWords(ferric, 'g')}`,
      ]
    : [];

const openNiter = (job: Job): Flow | undefined =>
  job.planned ? openAdds(job.entry).find(({ material }) => NITERS.has(material!.name)) : undefined;

const isAgentWanted = (job: Job, open: Flow | undefined): boolean => {
  if (!job.planned || open) return job.planned;
  // What reduces stands there already; beside niter nothing that burns is put in unasked.
  return !job.entry.flows.some(
    ({ word, material }) =>
      word === 'add' && (isOf(job, material?.name ?? '', REDUCTANT) || NITERS.has(material?.name ?? '')),
  );
};

/** Before it stands there it is not known how much of the litharge is flux. */
export const isAgentToCome = (job: Job): boolean => {
  const smelt = smeltOf(job);
  const litharge = smelt ? lithargeIn(smelt) : 0;
  if (!smelt || !(litharge > 0)) return false;
  const open = openAgent(job);
  if (!isAgentWanted(job, open)) return false;
  return isWorth(over(needOf(job, litharge).lacks, reducingPower(agentOf(open))!.leadPerGram));
};

const wanted = (job: Job, litharge: number, open: Flow | undefined): Advice => {
  const agent = agentOf(open);
  const { aim, book, lacks, left } = needOf(job, litharge);
  const power = reducingPower(agent)!;
  const need: Estimate = over(lacks, power.leadPerGram);
  const range = `${agent} ${rangeWords(need, 'g')}`;
  const amount = guessWords(need, 'g');
  return {
    topic: TOPIC,
    at: open?.place ?? job.entry.head,
    rank: 'result',
    working: () => ({
      says:
        lacks.best > 0
          ? `For a lead button of about ${rangeWords(exactly(aim), 'g')} add ${rangeWords(need, 'g')} of ${agent}.`
          : `What the charge holds brings down a lead button of ${rangeWords(exactly(aim), 'g')} and more: ${rangeWords(niterBy(left), 'g')} of niter hold it to that.`,
      rows: [
        ...needRows(litharge, aim, book),
        `lead wanted       ${estimateWords(lacks, 'g')}`,
        `${agent.padEnd(17)} lead wanted / ${powerWords(agent)} = ${estimateWords(need, 'g')}`,
      ],
      assumed: [powerGround(power), ...groundOf(book)],
      todo: TRIAL,
    }),
    ...(isWorth(niterBy(left)) ? { choices: [{ title: 'Hold the button with niter', line: 'add niter ?' }] } : {}),
    ...(isWorth(need)
      ? {
          writes: [
            open ? { flow: open, amount, range } : { part: 'add' as const, line: `add ${agent} ${amount}`, range },
          ],
        }
      : {}),
  };
};

const TRIAL =
  'How much a gram brings down hangs on the flour, the ore and the slag: weigh the button of a small trial, and put the rest of the charge right by it.';

const needRows = (litharge: number, aim: number, book: LeadBook): readonly string[] => [
  `litharge          ${rangeWords(exactly(litharge), 'g')}`,
  `button            4 × 11.2/75 × litharge = ${rangeWords(exactly(aim), 'g')}`,
  ...(book.reduces.best > 0 ? [`the charge's own  ${estimateWords(book.reduces, 'g')}`] : []),
  ...(book.oxidises.best > 0 ? [`oxidisers take    ${estimateWords(book.oxidises, 'g')}`] : []),
  ...ferricRow(book),
];

const groundOf = ({ agents, ferric }: LeadBook): readonly Assumption[] => [
  ...[...agents.keys()].map((agent) => powerGround(reducingPower(agent)!)),
  assume('4 g flour to 75 g litharge, the rest of it being flux', `quartz charge, ${BERINGER}`),
  ...(ferric.best > 0 ? [FERRIC] : []),
];

const FERRIC = assume('magnetite and ferric oxide go to FeO before lead comes down', FROM_MEMORY);

/** Niter that takes so much lead back, g. */
const niterBy = (lead: Estimate): Estimate => {
  const { low, best, high } = reducingPower('niter')!.leadPerGram;
  return over(lead, { low: -high, best: -best, high: -low });
};

/** Niter for an ore that brings down more lead than the button is to have: (its own − button)/4. */
const niterFor = (job: Job, litharge: number, open: Flow): readonly Advice[] => {
  const name = open.material!.name;
  const { aim, book, left } = needOf(job, litharge);
  const need = niterBy(left);
  const working = (): Working => ({
    says:
      left.best > 0
        ? `The charge brings down about ${bestWords(left, 'g')} of lead more than a button of ${rangeWords(exactly(aim), 'g')}: ${rangeWords(need, 'g')} of ${name} take that back.`
        : `The charge brings down no more lead than a button of ${rangeWords(exactly(aim), 'g')}: it wants no ${name}.`,
    rows: [
      ...needRows(litharge, aim, book),
      `too much          ${estimateWords(left, 'g')}`,
      `${name.padEnd(17)} too much / ${powerWords('niter')} = ${estimateWords(need, 'g')}`,
    ],
    assumed: [powerGround(reducingPower('niter')!), ...groundOf(book)],
    todo: `${TRIAL} Niter deflagrates with sulphide: mix small amounts, never grind them together, the crucible under half full, heat slowly, below a hood, as local codes have it.`,
  });
  const tight = niterBeyond(job, need);
  if (tight && isWorth(need)) return [tooMuchNiter(TOPIC, open, need, tight, working)];
  const [amount, range] = isWorth(need)
    ? [guessWords(need, 'g'), `${name} ${rangeWords(need, 'g')}`]
    : ['0 g', `no ${name}`];
  return [{ topic: TOPIC, at: open.place, rank: 'result', working, writes: [{ flow: open, amount, range }] }];
};

/** Less than this nobody weighs out for a crucible, g. */
const LEAST_GRAMS = 0.05;

const isWorth = ({ best }: Estimate): boolean => best >= LEAST_GRAMS;

const agentOf = (open: Flow | undefined): string => open?.material?.name ?? 'flour';

interface Need {
  /** Of the button, g. */
  readonly aim: number;
  readonly book: LeadBook;
  /** Lead that is to come down besides what the charge brings by itself; and what it brings too much, g. */
  readonly lacks: Estimate;
  readonly left: Estimate;
}

const needOf = (job: Job, litharge: number): Need => {
  const book = leadBook(smeltOf(job)!);
  const aim = LEAD_PER_LITHARGE * litharge;
  const wants = sumOf([exactly(aim), book.oxidises, book.ferric]);
  return { aim, book, lacks: less(wants, book.reduces), left: less(book.reduces, wants) };
};
