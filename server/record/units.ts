/** A page as the things that two hands may change apart: its days, and the entries under each, known by what they are and not by their lines. */
import { parsePage } from '../syntax/parse';
import type { Section } from '../syntax/tree';
import { canonicalLines } from './canonical';

export interface Unit {
  /** What it is known by: a day by its date; an entry by its day, verb and name, and which of them where several are alike. */
  readonly key: string;
  /** The day that it stands under, as its own key; none for what stands above the first day, and for days. */
  readonly day: string | undefined;
  readonly section: Section;
  /** As written, with the empty lines and comments behind it. */
  readonly text: string;
  /** What it says. */
  readonly said: string;
}

/** In the order of the page; undefined where merge markers stand in it: what belongs to which side is then not known. */
export const unitsOf = (text: string): readonly Unit[] | undefined => {
  const { sections } = parsePage('page.melt', text);
  if (sections.some(({ kind }) => kind === 'conflict')) return undefined;
  const seen = new Map<string, number>();
  let day: string | undefined;
  return sections.map((section) => {
    const said = canonicalLines(section).join('\n');
    const base = section.kind === 'day' ? `day ${section.date ?? said}` : `${day ?? ''} ${identityOf(section, said)}`;
    const nth = (seen.get(base) ?? 0) + 1;
    seen.set(base, nth);
    const key = nth === 1 ? base : `${base} (${nth})`;
    if (section.kind === 'day') day = key;
    const own = section.kind === 'entry' ? day : undefined;
    return { key, day: own, section, text: section.text, said };
  });
};

/** `melt M57`, `more melt M57`, `assay B57c xrf`; what bears no name is known by all that it says. */
const identityOf = (section: Section, said: string): string => {
  if (section.kind === 'preamble') return 'preamble';
  const { verb, prefix, lines } = section;
  const [first] = lines[0]?.pieces[0]?.values ?? [];
  const method = lines[0]?.pieces[0]?.values.find(({ lead }) => lead?.text.toLowerCase() === 'by');
  const name = first?.shape === 'word' ? first.word.text : first?.shape === 'date' ? first.text : undefined;
  if (!verb || name === undefined || ALIKE.has(verb.row.word)) return said;
  const by = method?.shape === 'word' ? method.word.text : undefined;
  return [prefix?.text.toLowerCase(), verb.row.word, name, by].filter((word) => word !== undefined).join(' ');
};

/** Several of these in a day are several facts, whatever they name. */
const ALIKE: ReadonlySet<string> = new Set(['note', 'quote', 'offer', 'weigh', 'check-scale']);
