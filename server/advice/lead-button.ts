/** A fusion with litharge: the lead button that its flour or charcoal brings down, and what to add for one. */
import { reducingPower } from '../engine/bench/oxidation';
import { assume, BERINGER, type Estimate, exactly, over } from '../engine/bench/result';
import type { Advice, Topic, Working } from './advice';
import { isAllWeighed, type Job } from './job';
import { isOf, openAdds, smeltOf } from './smelt';
import { estimateWords, guessWords, rangeWords } from './words';
import { leadFrom } from './yield';

const TOPIC = 'lead button';

/** Beringer's quartz charge has 4 g flour, each bringing down 11.2 g lead, to 75 g litharge; the rest is flux. */
const LEAD_PER_LITHARGE = (4 * 11.2) / 75;
const AGENTS: readonly string[] = ['flour', 'charcoal', 'tartar'];
const REDUCTANT: ReadonlySet<string> = new Set(['reductant']);

export const leadCollected: Topic = (job) => {
  const smelt = smeltOf(job);
  if (!smelt) return [];
  const litharge = smelt.added
    .filter(({ material }) => material.name === 'litharge')
    .reduce((so, { massGrams }) => so + massGrams, 0);
  if (!(litharge > 0)) return [];
  const open = openAdds(job.entry).find(({ material }) => AGENTS.includes(material!.name));
  const isReduced = job.entry.flows.some(
    ({ word, material }) => word === 'add' && isOf(job, material?.name ?? '', REDUCTANT),
  );
  if (job.planned && (open || !isReduced)) return [wanted(job, litharge, open)];
  const found = leadFrom(smelt);
  if (!found || !isAllWeighed(job)) return [];
  const working = (): Working => ({
    says: `The charge brings down a lead button of ${rangeWords(found.grams, 'g')}.`,
    rows: [
      `litharge          ${rangeWords(exactly(litharge), 'g')}`,
      `lead button       ${estimateWords(found.grams, 'g')}`,
    ],
    assumed: found.assumed,
  });
  const label = job.planned ? { label: `lead button ${rangeWords(found.grams, 'g')}` } : {};
  return [{ topic: TOPIC, at: job.entry.head, ...label, rank: 'extra', working }];
};

const wanted = (job: Job, litharge: number, open: ReturnType<typeof openAdds>[number] | undefined): Advice => {
  const agent = open?.material?.name ?? 'flour';
  const smelt = smeltOf(job)!;
  const aim = LEAD_PER_LITHARGE * litharge;
  const own = leadFrom(smelt)?.grams.best ?? 0;
  const oxidisers = new Map(
    smelt.added.flatMap(({ material, massGrams }) =>
      (reducingPower(material.name)?.leadPerGram.best ?? 0) < 0 ? [[material.name, massGrams] as const] : [],
    ),
  );
  const taken = oxidisers.size > 0 ? takenBy(oxidisers) : 0;
  const power = reducingPower(agent)!;
  const need: Estimate = over(exactly(Math.max(0, aim + taken - own)), power.leadPerGram);
  const range = `${agent} ${rangeWords(need, 'g')}`;
  const amount = guessWords(need, 'g');
  return {
    topic: TOPIC,
    at: open?.place ?? job.entry.head,
    rank: 'result',
    working: () => ({
      says: `For a lead button of about ${rangeWords(exactly(aim), 'g')} add ${rangeWords(need, 'g')} of ${agent}.`,
      rows: [
        `litharge          ${rangeWords(exactly(litharge), 'g')}`,
        `button            ${rangeWords(exactly(aim), 'g')}`,
        ...(own > 0 ? [`the ore's own     ${rangeWords(exactly(own), 'g')}`] : []),
        ...(taken > 0 ? [`oxidisers take    ${rangeWords(exactly(taken), 'g')}`] : []),
        `${agent.padEnd(17)} lead wanted / ${power.leadPerGram.best} = ${estimateWords(need, 'g')}`,
      ],
      assumed: [
        assume(`${agent} brings down ${power.leadPerGram.best} g lead a gram`, power.source),
        assume('4 g flour to 75 g litharge, the rest of it being flux', `quartz charge, ${BERINGER}`),
      ],
    }),
    ...(need.best > 0
      ? {
          writes: [
            open ? { flow: open, amount, range } : { part: 'add' as const, line: `add ${agent} ${amount}`, range },
          ],
        }
      : {}),
  };
};

/** Lead that niter and red lead take back, g. */
const takenBy = (oxidisers: ReadonlyMap<string, number>): number =>
  [...oxidisers].reduce((so, [name, grams]) => so - grams * reducingPower(name)!.leadPerGram.best, 0);
