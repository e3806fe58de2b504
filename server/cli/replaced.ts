/** What a seal that was made anew covers otherwise than the one that it replaces: that one is put back in thought, as git has it, and checked. */
import { type Break, recordOf } from '../record/breaks';
import { canonicalLines } from '../record/canonical';
import { headOf, lineChanges, named } from '../record/changes';
import { type SealEntry, sealsOf } from '../record/periods';
import { saidBy } from '../record/seal';
import { thingLines } from '../record/shop';
import { stepWords } from '../reports/words';
import { visible } from '../text/visible';
import { withTexts } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { Opened } from './journals';
import { whereWords } from './print';
import { rememberSealed } from './sealed-history';
import { shortDigest } from './seals-gone';
import { sealsInGit, topOf, wholeSeal } from './seals-in-git';

export interface Replaced {
  readonly digest: string;
  /** A sentence part for each thing that it closed and that is another now; none where git does not have that seal. */
  readonly changes: readonly string[] | undefined;
  /** How many entries came that it did not close. */
  readonly come: number;
}

/** Of a seal that names others that it was made anew instead of. */
export const replacedBy = (workspace: Workspace, seal: SealEntry): readonly Replaced[] => {
  const { replaces } = saidBy(seal.section);
  const top = replaces.length > 0 ? topOf(workspace.root) : undefined;
  const past = top === undefined ? [] : sealsInGit(workspace.root);
  return replaces.map((digest) => {
    const known = past.find((one) => one.digest === digest);
    const old = known && wholeSeal(top!, known);
    if (!old) return { digest, changes: undefined, come: 0 };
    const then = asBefore(workspace, seal, old);
    const breaks = recordOf(then).seals.find(({ seal: one }) => one.entry.digest?.name === digest)?.breaks ?? [];
    return {
      digest,
      changes: breaks.flatMap((one) => changeWords(then, one)),
      come: breaks.filter(({ kind }) => kind === 'appeared').length,
    };
  });
};

/** The journal with the old seal in the new one's place. */
const asBefore = (workspace: Workspace, seal: SealEntry, old: SealEntry): Workspace => {
  const { file } = seal.section;
  const { page } = workspace.pages.get(file)!;
  const start = page.starts.get(seal.section) ?? 0;
  const text = page.text.slice(0, start) + page.text.slice(start + seal.section.text.length);
  const texts = new Map([
    [file, text],
    [`${workspace.root}/replaced.melt`, `${old.entry.date ?? old.upTo}\n\n${old.section.text}`],
  ]);
  return rememberSealed(withTexts(workspace, texts));
};

const changeWords = (workspace: Workspace, one: Break): readonly string[] => {
  const { remembered } = workspace;
  switch (one.kind) {
    case 'changed': {
      const was = remembered.get(one.mark);
      const changes = was && lineChanges(was, canonicalLines(one.at.section));
      return [`${whatIs(workspace, one)} changed${changes === undefined ? '' : `: ${changes}`}`];
    }
    case 'moved':
      return [
        `${whatIs(workspace, one)} stood ${one.from === one.at.date ? 'elsewhere in its day' : `under ${one.from}`}`,
      ];
    case 'turned':
      return [`${whatIs(workspace, one)} stood before ${stepWords(one.decided.second.entry!)}`];
    case 'vanished': {
      const heads = named(one.gone.flatMap(({ mark }) => headOf(remembered.get(mark)) ?? []));
      const days = [...new Set(one.gone.map(({ day }) => day))].join(', ');
      return [
        `${one.gone.length === 1 ? 'an entry' : `${one.gone.length} entries`} of ${days} gone${heads === undefined ? '' : `: ${heads}`}`,
      ];
    }
    case 'workshop': {
      const was = one.mark === undefined ? undefined : remembered.get(one.mark);
      const now = one.thing && thingLines(one.thing, one.seal.upTo);
      const changes = was && now && was[0] === now[0] ? lineChanges(was.slice(1), now.slice(1)) : undefined;
      const what = (was?.[0] ?? now?.[0] ?? 'something').replace(/^workshop /, '');
      return [`in the workshop file ${what} ${now ? `changed${changes === undefined ? '' : `: ${changes}`}` : 'gone'}`];
    }
    default:
      return [];
  }
};

const whatIs = (workspace: Workspace, { at }: Extract<Break, { kind: 'changed' | 'moved' | 'turned' }>): string =>
  at.entry
    ? `${stepWords(at.entry)} of ${at.date} (${whereWords(workspace, at.entry.head)})`
    : `the text of ${at.date}`;

/** A sentence for each seal that was made anew over what changed; one that only took more in needs none. */
export const replacedNotes = (workspace: Workspace): readonly string[] =>
  sealsOf(workspace).flatMap((seal) =>
    replacedBy(workspace, seal).flatMap(({ digest, changes = [] }) => {
      if (changes.length === 0) return [];
      const why = seal.entry.said.because;
      const what = changes.length === 1 ? 'One thing' : `${changes.length} things`;
      return [
        visible(
          `The seal up to ${seal.upTo} was made anew, was ${shortDigest(digest)}${why === undefined ? '' : `, because ${why}`}. ${what} that it closed changed: ${changes[0]}.${changes.length > 1 ? ' `fineweight record` names all.' : ''}`,
        ),
      ];
    }),
  );

/** The same for the record of seals, each thing on its line. */
export const replacedLines = (workspace: Workspace, seal: SealEntry): readonly string[] => {
  const all = replacedBy(workspace, seal);
  if (all.length === 0) return [];
  const why = seal.entry.said.because;
  return [
    `  made anew, was ${all.map(({ digest }) => shortDigest(digest)).join(' and ')}${why === undefined ? '' : `, because ${why}`}`,
    ...all.flatMap(({ digest, changes, come }) => {
      if (!changes) return [`    ${shortDigest(digest)}: git does not have it, so what it closed is not known`];
      const more = come > 0 ? [`${come} ${come === 1 ? 'entry' : 'entries'} more than it closed`] : [];
      return [...changes, ...more].map((words) => `    ${shortDigest(digest)}: ${words}`);
    }),
  ];
};

/** A check that also tells of them. */
export const withReplaced = (opened: Opened): Opened => ({
  ...opened,
  notes: [...opened.notes, ...opened.journals.flatMap(({ workspace }) => replacedNotes(workspace))],
});
