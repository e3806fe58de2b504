/** What was planned of a step that is done: by the comment that its line kept, or by the plan that still stands. */
import type { Amount, Entry, Flow } from '../engine/entry';
import type { Section } from '../syntax/tree';
import type { Workspace } from '../workspace/workspace';
import { PLANNED } from './done';

export interface PlannedFigure {
  readonly flow: Flow;
  /** As it was written: `52 g`, `~52 g`. */
  readonly planned: string;
}

/** Line by line, in the order of the entry; empty where nothing was planned. */
export const plannedFigures = (workspace: Workspace, entry: Entry): readonly PlannedFigure[] => {
  const plan = planFor(workspace, entry);
  return entry.flows.flatMap((flow) => {
    const planned = keptBeside(flow) ?? (plan && figureIn(plan, flow));
    return planned === undefined ? [] : [{ flow, planned }];
  });
};

/** The plan of the same verb and name. */
const planFor = ({ pages }: Workspace, { verb, name, prefix }: Entry): Entry | undefined => {
  if (!name || prefix) return undefined;
  for (const page of pages.values()) {
    const found = page.byStep.get(name.name)?.find((one) => one.prefix === 'plan' && one.verb === verb && !one.broken);
    if (found) return found;
  }
  return undefined;
};

/** Behind the line of a flow: `# planned 52 g`. Of a line with several the first stands for the first. */
const keptBeside = ({ place }: Flow): string | undefined => {
  const { text } = place.anchor as Section;
  const line = text.slice(place.end).split('\n', 1)[0]!;
  const at = line.indexOf(PLANNED);
  const said = at < 0 ? '' : line.slice(at + PLANNED.length).trim();
  return said === '' ? undefined : said;
};

const figureIn = (plan: Entry, flow: Flow): string | undefined => {
  const same = plan.flows.find((one) => isSame(one, flow));
  return same?.amount && same.amount.absent === undefined ? textOf(same.amount) : undefined;
};

const isSame = (one: Flow, other: Flow): boolean =>
  one.word === other.word && one.lot?.name === other.lot?.name && one.material?.name === other.material?.name;

const textOf = ({ place }: Amount): string => (place.anchor as Section).text.slice(place.start, place.end);
