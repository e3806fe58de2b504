/** Lots, steps and things of the workshop by a part of their name, over the whole journal. */
import type { Entry } from '../engine/entry';
import { stepWords } from '../reports/words';
import type { Span } from '../text/span';
import type { Workspace } from '../workspace/workspace';
import { locate } from '../workspace/workspace';
import { DECLARED_IN, type NameKind } from './names';

export interface Found extends Span {
  readonly name: string;
  readonly kind: NameKind;
  readonly file: string;
  /** What it is, and when: `button of melt M57, 2026-05-05`. */
  readonly detail: string;
}

/** An editor shows no more of them. */
const MOST = 200;

/** Those whose name has the letters of the query in their order, whatever their case; the latest first. */
export const foundAnywhere = (workspace: Workspace, query: string): readonly Found[] => {
  const wanted = query.trim().toLowerCase();
  const fits = (name: string): boolean => hasInOrder(name.toLowerCase(), wanted);
  const dated: { readonly date: string; readonly found: Found }[] = [];
  for (const name of workspace.book.lotNames()) {
    if (!fits(name)) continue;
    const [birth] = workspace.book.lot(name)?.births ?? [];
    if (!birth) continue;
    const { entry, flow } = birth;
    const place = flow?.lot?.place ?? entry.toLot?.place ?? entry.name?.place ?? entry.head;
    const what = flow?.kind ?? (flow ? 'product' : 'lot');
    dated.push({
      date: entry.date ?? '',
      found: { name, kind: 'lot', ...locate(workspace, place), detail: onDay(`${what} of ${stepWords(entry)}`, entry) },
    });
  }
  for (const page of workspace.pages.values()) {
    for (const entry of page.entries) {
      if (entry.prefix || !entry.name || !fits(entry.name.name) || !isStep(entry)) continue;
      dated.push({
        date: entry.date ?? '',
        found: {
          name: stepWords(entry),
          kind: 'step',
          ...locate(workspace, entry.name.place),
          detail: onDay('', entry),
        },
      });
    }
  }
  const latest = dated.sort((a, b) => (a.date > b.date ? -1 : a.date < b.date ? 1 : 0)).map(({ found }) => found);
  return [...latest, ...ofWorkshop(workspace, fits)].slice(0, MOST);
};

const isStep = ({ verb, flows }: Entry): boolean => flows.length > 0 || verb === 'ship';

const onDay = (what: string, { date }: Entry): string => [what, date].filter(Boolean).join(', ');

const ofWorkshop = ({ workshopFile }: Workspace, fits: (name: string) => boolean): readonly Found[] => {
  if (!workshopFile) return [];
  const { file, names } = workshopFile;
  return Object.entries(DECLARED_IN).flatMap(([kind, sections]) =>
    sections.flatMap((section) =>
      [...(names.get(section) ?? [])].flatMap(([name, { start, end }]) =>
        fits(name) ? [{ name, kind: kind as NameKind, file, start, end, detail: section }] : [],
      ),
    ),
  );
};

const hasInOrder = (text: string, letters: string): boolean => {
  let at = 0;
  for (const letter of letters) {
    at = text.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
};
