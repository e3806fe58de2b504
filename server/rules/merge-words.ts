/** What the two sides of an unfinished merge say, which of them balances, and the ways to end it. */
import type { Entry } from '../engine/entry';
import { type Difference, differencesBetween, type Sides, sidesOf } from '../record/conflict';
import type { Section } from '../syntax/tree';
import { placeIn } from '../text/place';
import { withTexts } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { Fix, Match } from './rule';
import { entryWords } from './seal-words';

/** Undefined where a marker stands alone: then there are no two sides. */
export const mergeMatch = (workspace: Workspace, section: Section): Match | undefined => {
  const sides = sidesOf(section);
  if (!sides) return undefined;
  const differences = differencesBetween(sides);
  const told = differences.slice(0, MOST_TOLD).map(differenceWords);
  const more = differences.length - told.length;
  const says = [
    'Two versions stand here side by side.',
    ...(differences.length === 0 ? ['They say the same.'] : told),
    ...(more > 0 ? [`And ${more} more.`] : []),
    ...closing(workspace, section, sides, differences),
    differences.some(({ kind }) => kind === 'differs')
      ? 'Keep one and take out the marker lines; if they are two things, give one another name.'
      : 'Keep what holds and take out the marker lines.',
  ].join(' ');
  const first = section.text.search(/[\r\n]|$/);
  return { place: placeIn(section, { start: 0, end: first }), says, fixes: fixesFor(section, sides, differences) };
};

const MOST_TOLD = 3;
const MOST_LINES = 3;

const differenceWords = ({ kind, what, lines }: Difference): string => {
  if (kind !== 'differs') return `${capital(kind === 'ours only' ? 'ours' : 'theirs')} alone has \`${what}\`.`;
  const sides = (side: 'ours' | 'theirs'): string => {
    const own = lines.flatMap((line) => line[side] ?? []);
    const shown = own.slice(0, MOST_LINES).map((line) => `\`${line}\``);
    return own.length === 0 ? 'nothing' : `${shown.join(', ')}${own.length > MOST_LINES ? ' and more' : ''}`;
  };
  return `Of \`${what}\` ours has ${sides('ours')}; theirs ${sides('theirs')}.`;
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Where the balance of a step tells the sides apart. */
const closing = (
  workspace: Workspace,
  section: Section,
  sides: Sides,
  differences: readonly Difference[],
): readonly string[] => {
  const differing = differences.filter(({ kind }) => kind === 'differs');
  if (differing.length === 0 || differing.length > MOST_TOLD) return [];
  const [ours, theirs] = [sides.ours, sides.theirs].map((text) => asIf(workspace, section, text));
  return differing.flatMap(({ what }) => {
    const name = what === WITHIN ? nameAbove(workspace, section) : what;
    const [a, b] = [closes(ours!, section.file, name), closes(theirs!, section.file, name)];
    if (a === undefined || b === undefined || a === b) return [];
    return [`Only ${a ? 'ours' : 'theirs'} balances.`];
  });
};

/** How `record/conflict` calls lines whose entry begins above the markers. */
const WITHIN = 'this entry';

const asIf = (workspace: Workspace, section: Section, side: string): Workspace => {
  const { text, starts } = workspace.pages.get(section.file)!.page;
  const start = starts.get(section)!;
  const whole = text.slice(0, start) + side + text.slice(start + section.text.length);
  return withTexts(workspace, new Map([[section.file, whole]]), false);
};

const nameAbove = (workspace: Workspace, section: Section): string | undefined => {
  const page = workspace.pages.get(section.file)!;
  const above = page.page.sections[page.page.sections.indexOf(section) - 1];
  const entry = above && page.bySection.get(above);
  return entry && entryWords(entry);
};

/** None for what has no balance. */
const closes = ({ pages, book }: Workspace, file: string, name: string | undefined): boolean | undefined => {
  const entry: Entry | undefined = pages.get(file)?.entries.find((one) => entryWords(one) === name);
  const verdict = entry && book.step(entry)?.verdict;
  if (verdict === undefined || verdict === 'open' || verdict === 'solved') return undefined;
  return verdict === 'closed' || verdict === 'usual';
};

const fixesFor = (section: Section, sides: Sides, differences: readonly Difference[]): readonly Fix[] => {
  const whole = placeIn(section, { start: 0, end: section.text.length });
  const fix = (title: string, text: string): Fix => ({ title, edits: [{ at: whole, text }], safe: false });
  const isBoth = !differences.some(({ kind }) => kind === 'differs');
  return [
    fix('Keep ours', sides.ours),
    fix('Keep theirs', sides.theirs),
    ...(isBoth && differences.length > 0 ? [fix('Keep both', bothOf(sides, differences))] : []),
  ];
};

/** What both have is kept once, as ours has it. */
const bothOf = ({ ours, theirs }: Sides, differences: readonly Difference[]): string => {
  const extra = differences.some(({ kind }) => kind === 'theirs only') ? theirs : '';
  return differences.some(({ kind }) => kind === 'ours only') ? ours + extra : theirs;
};
