/** What was corrected of that which a document shows: added to every kind, so that none can leave it out. */
import { type Mended, mendedIn } from '../reports/corrections';
import type { Workspace } from '../workspace/workspace';
import { type Choice, isWithin } from './choice';
import type { Kind } from './kinds/kind';
import { type Document, quotes, type Section, section, sentences } from './model';

type Made = Omit<Document, 'kind'>;

/** With a section before findings and cautions, where anything that it names, or rests on, was corrected. */
export const withCorrections = (kind: Kind, workspace: Workspace, choice: Choice, made: Made): Made => {
  const all = mendedIn(workspace);
  if (all.length === 0) return made;
  const named = namedIn(made);
  const isTold = ({ entry, by }: Mended): boolean =>
    named.has(entry.anchor) ||
    named.has(by.anchor) ||
    (choice.day !== undefined && (choice.day === by.date || choice.day === entry.date)) ||
    (kind.restsOn === 'period' && choice.owner === undefined && isWithin(choice, entry.date));
  const told = all.filter(isTold).map((one) => quotes(one.says, one.place));
  const before = made.sections.findIndex(({ title }) => LAST.has(title));
  const at = before < 0 ? made.sections.length : before;
  return { ...made, sections: made.sections.toSpliced(at, 0, ...section('Corrections', sentences(told))) };
};

const LAST: ReadonlySet<string> = new Set(['Handed over', 'Findings', 'Cautions']);

/** The entries that its lines lead to. */
const namedIn = ({ facts, sections }: Made): ReadonlySet<object> => {
  const placed = [...facts, ...sections.flatMap(({ blocks }: Section) => blocks.flatMap(linesOf))];
  return new Set(placed.flatMap(({ place }) => (place ? [place.anchor] : [])));
};

const linesOf = (
  block: Section['blocks'][number],
): readonly { readonly place?: Document['facts'][number]['place'] }[] =>
  block.form === 'sentences' ? block.sentences : block.form === 'table' ? block.rows : [];
