/** What comes after a planned melt: lead and cupel for its button, by a plan to cupel it that stands on no page. */
import { type Estimate, over, sumOf } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import { targetOf } from '../engine/target';
import type { Section } from '../syntax/tree';
import { withTexts } from '../workspace/update';
import type { Advice, Working } from './advice';
import { baseOf } from './base';
import { contentsOf } from './job';
import { answersOf, type Plan, planOf } from './plans';
import { isChloride, smeltOf } from './smelt';
import { PLAIN_NAME } from './words';

/** Every answer of a plan, and what its product will want next. */
export const answersWithNext = (plan: Plan): readonly Advice[] => [...answersOf(plan), ...toCupel(plan)];

/** The button of a melt, where its base metal is not known, or is a share that cupelling takes out; none for another verb. */
export const toCupel = (plan: Plan): readonly Advice[] => {
  const { job, entry } = plan;
  // What is alloyed to a target is wanted as it is.
  if (entry.verb !== 'melt' || !job.step || targetOf(entry)) return [];
  return job.step.outputs.flatMap((output) => {
    const name = output.flow.lot?.name;
    if (output.flow.kind !== 'button' || name === undefined || !isToCupel(plan, output)) return [];
    const next = planFor(plan, name);
    // A plan in which nothing could be worked out has nothing to say.
    return next && (next.written.length > 0 || hasLead(next)) ? [told(output, next)] : [];
  });
};

/** The lead in the button is enough: nothing is to be written for it. */
const hasLead = ({ advice }: Plan): boolean => advice.some(({ topic }) => topic === 'lead');

/** Base metal and lead as shares of a button: under the one it is not worth a cupel, above the other it wants more than six times its weight of lead, and is first refined otherwise. */
const WORTH = { least: 0.01, most: 0.4 };

const isToCupel = ({ job }: Plan, output: FlowWeight): boolean => {
  const smelt = smeltOf(job);
  // Silver of its chloride is as good as fine.
  if (smelt && isChloride(smelt)) return false;
  const contents = contentsOf(job, output);
  const { grams, lead } = contents ? baseOf(contents) : {};
  if (!contents) return false;
  // Nobody knows how base it is: cupelling is how it is found out.
  if (!grams || !lead) return true;
  const share: Estimate = over(sumOf([grams, lead]), contents.grams.best);
  return share.best >= WORTH.least && share.best <= WORTH.most;
};

/** Behind the melt, in the journal in which that is done. */
const planFor = ({ job }: Plan, lot: string): Plan | undefined => {
  const { anchor } = job.entry;
  const before = job.workspace.pages.get(anchor.file);
  const at = before?.page.sections.indexOf(anchor as Section) ?? -1;
  if (!before || at < 0 || !PLAIN_NAME.test(lot)) return undefined;
  const texts = before.page.sections.map(({ text }) => text);
  texts.splice(at, 1, `${texts[at]!.trimEnd()}\n\n`, `plan cupel next-step\n  in ${lot}\n\n`);
  const workspace = withTexts(job.workspace, new Map([[anchor.file, texts.join('')]]), job.workspace.whole);
  const page = workspace.pages.get(anchor.file);
  const section = page?.page.sections[at + 1];
  const next = section && page.bySection.get(section);
  return next && planOf(workspace, next);
};

const TOPICS: ReadonlySet<string> = new Set(['lead', 'cupel', 'cupel load', 'bead']);

const told = ({ flow }: FlowWeight, next: Plan): Advice => {
  const ways = (): readonly Working[] =>
    answersOf(next)
      .filter(({ topic }) => TOPICS.has(topic))
      .map(({ working }) => working());
  // Which of the shop's cupels is fresh is told by the plan to cupel it.
  const ranges = next.written.flatMap(({ writing }) =>
    'part' in writing && writing.part === 'gear' ? [] : [writing.range],
  );
  const working = (): Working => ({
    says: `Then, to cupel the button: ${ranges.length > 0 ? ranges.join(', ') : 'the lead in it is enough'}.`,
    rows: next.filled.text
      .trimEnd()
      .split('\n')
      .slice(1)
      .filter((line) => !line.startsWith('  cupel-body ')),
    assumed: [
      ...new Map(
        ways()
          .flatMap(({ assumed }) => assumed)
          .map((one) => [one.says + one.source, one]),
      ).values(),
    ],
    ...todoOf(ways()),
  });
  return { topic: 'next step', at: flow.place, rank: 'extra', working };
};

/** Which cupel takes it. */
const todoOf = (ways: readonly Working[]): Pick<Working, 'todo'> => {
  const cupel = ways.find(({ says }) => says.startsWith('Lead and base metal come to'));
  // Without cupels of the shop it ends in a table.
  const says = cupel?.says.endsWith(':') ? undefined : cupel?.says;
  return cupel ? { todo: [says, cupel.todo].filter((one) => one !== undefined).join(' ') } : {};
};
