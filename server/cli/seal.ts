/** `fineweight seal DATE`: closes the record up to a day, on a new page of its own. */
import { join } from 'node:path';
import { recordOf } from '../record/breaks';
import { named } from '../record/changes';
import { draftOf, draftText, reasonAsRead, unfitDay } from '../record/draft';
import { sealsOf } from '../record/periods';
import { canonicalText, type FileDigest, filesOf, heldBy, type Period, periodUpTo, saidBy } from '../record/seal';
import { findingsOf } from '../rules/findings';
import { orderByPage } from '../rules/order-by-page';
import type { Finding } from '../rules/rule';
import { visible } from '../text/visible';
import { withTexts } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import { type Opened, shortPath } from './journals';
import { UsageError } from './options';
import type { Paint } from './paint';
import { findingText, whereWords } from './print';
import { withFiles } from './proofs';
import { replacedLines } from './replaced';
import { rememberSealed } from './sealed-history';
import { goneSeals, whereStood } from './seals-gone';
import type { PastSeal } from './seals-in-git';
import { unknownHistory } from './seals-in-git';
import { writeNewFile } from './write';

export interface SealOptions {
  readonly upTo: string;
  /** Write a page, print it, or print what is hashed. */
  readonly what: 'write' | 'print' | 'canonical';
  readonly withErrors: boolean;
  /** Why seals that git knows of the same time are openly made anew. */
  readonly because: string | undefined;
  readonly paint: Paint;
}

export const seal = (opened: Opened, options: SealOptions): Outcome => {
  const [journal, second] = withFiles(opened).journals;
  if (!journal || opened.failures.length > 0) return { text: '', exit: 2 };
  if (second) throw new UsageError('These are several journals; seal one of them.');
  const workspace = rememberSealed(journal.workspace);
  if (options.what === 'canonical') return { text: canonicalUpTo(workspace, options.upTo), exit: 0 };
  const refused = refusal(workspace, options);
  if (refused) return refused;
  const replaces = replacedBy(workspace, options);
  const because = options.because === undefined ? undefined : reasonAsRead(options.because);
  if (options.because !== undefined && because === undefined) throw new UsageError('--because wants a reason.');
  const draft = draftOf(workspace, options.upTo, replaces, because);
  if (draft.kind !== 'ready') throw new UsageError(waitingWords(draft));
  const text = `${options.upTo}\n\n${draftText(options.upTo, draft, because)}\n`;
  if (options.what === 'print') return { text, exit: 0 };
  const path = join(workspace.root, `seal-${options.upTo}.melt`);
  const after = withTexts(workspace, new Map([[path, text]]));
  if (recordOf(after).breaks.size > 0) throw new Error('the seal does not hold as it was written');
  writeNewFile(workspace.root, path, text);
  const done = doneWords(options.upTo, periodUpTo(workspace, options.upTo), draft.digest, shortPath(path));
  const made = sealsOf(after).find(({ upTo }) => upTo === options.upTo);
  const lines = [
    ...(made ? replacedLines(after, made) : []),
    ...orderedByPages(workspace, options.upTo),
    ...[unknownHistory(workspace.root) ?? []].flat(),
  ];
  return { text: [done, ...lines.map((line) => `${visible(line)}\n`)].join(''), exit: 0 };
};

/** What is sealed in an order that the pages' names alone give: from here on they may not turn it round. */
const orderedByPages = (workspace: Workspace, upTo: string): readonly string[] => {
  const inPeriod = new Set<object>(periodUpTo(workspace, upTo).sealed.map(({ section }) => section));
  const found = [...workspace.pages.keys()].flatMap((file) =>
    findingsOf(workspace, file).filter(({ code, place }) => code === orderByPage.code && inPeriod.has(place.anchor)),
  );
  if (found.length === 0) return [];
  const where = found.map(({ place }) => whereWords(workspace, place));
  return [`Sealed in the order that only the names of the pages give, which they keep from now on: ${named(where)}.`];
};

/** What stands in the way: a seal of that day or a later one, a broken seal, findings that are errors. */
const refusal = (workspace: Workspace, { upTo, withErrors, paint }: SealOptions): Outcome | undefined => {
  const unfit = unfitDay(workspace, upTo);
  if (unfit) throw new UsageError(unfit);
  const period = periodUpTo(workspace, upTo);
  const inPeriod = new Set<object>(period.sealed.map(({ section }) => section));
  const errors = [...workspace.pages.keys()].flatMap((file) =>
    findingsOf(workspace, file).filter(
      ({ code, severity, place }) =>
        severity === 'error' && (inPeriod.has(place.anchor) || code === 'seal-broken' || code === 'merge-marker'),
    ),
  );
  const hard = errors.filter(({ code }) => HARD.has(code));
  const told = withErrors ? hard : errors;
  return told.length > 0 ? { text: refusalText(workspace, told, hard.length > 0, paint), exit: 1 } : undefined;
};

/** Digests of the seals that stood once up to a day of this period: in silence none is put in their place. */
const replacedBy = (workspace: Workspace, { upTo, because }: SealOptions): readonly string[] => {
  const { after = '' } = periodUpTo(workspace, upTo);
  const gone = goneSeals(workspace).own.filter((one) => one.upTo > after);
  const last = gone.at(-1);
  if (!last) {
    if (because === undefined) return [];
    throw new UsageError('No seal is gone from here that this one would be made anew instead of: leave --because out.');
  }
  if (because === undefined) throw new UsageError(goneRefusal(last));
  if (last.upTo > upTo)
    throw new UsageError(`The record was sealed up to ${last.upTo} once: seal it anew up to that day or a later one.`);
  return gone.map(({ digest }) => digest);
};

const goneRefusal = (seal: PastSeal): string =>
  `The record was sealed up to ${seal.upTo} once: git has it in ${whereStood(seal)}. Put it back; or, where two hands sealed apart, seal anew and say so: --because "two hands sealed apart".`;

/** What no seal can be put over. */
const HARD: ReadonlySet<string> = new Set(['seal-broken', 'merge-marker', 'file-changed']);

const refusalText = (workspace: Workspace, told: readonly Finding[], isHard: boolean, paint: Paint): string =>
  [
    ...told.map((finding) => `${findingText(workspace, finding, paint)}\n`),
    isHard
      ? 'Not sealed: this comes first.\n'
      : 'Not sealed: what is sealed stays as it is. Mend these first, or seal them as they are with --with-errors.\n',
  ].join('\n');

const waitingWords = (draft: Exclude<ReturnType<typeof draftOf>, { kind: 'ready' }>): string => {
  if (draft.kind === 'unchained') return `The seal of ${draft.before} has no digest yet: it comes first.`;
  const [missing] = draft.missing;
  if (missing !== undefined) return `${visible(missing)} is not there to be sealed.`;
  return `${visible(draft.unknown[0] ?? '')} cannot be read, and so not be sealed.`;
};

const doneWords = (upTo: string, { sealed, things }: Period, digest: string, file: string): string => {
  const entries = sealed.filter(({ entry }) => entry).length;
  const lines = [
    `Sealed up to ${upTo}: ${entries} ${entries === 1 ? 'entry' : 'entries'}, ${things.length} ${things.length === 1 ? 'thing' : 'things'} of the workshop file.`,
    `  ${digest}`,
    `Written to ${visible(file)}. Commit it, and keep the digest where nobody can change both: on paper, with a customer, in a signature.`,
  ];
  return `${lines.join('\n')}\n`;
};

/** Of a seal that stands already with its own list of files; else as it would be sealed now. */
const canonicalUpTo = (workspace: Workspace, upTo: string): string => {
  const standing = recordOf(workspace).seals.find(({ seal: one }) => one.upTo === upTo);
  if (standing) {
    const said = saidBy(standing.seal.section);
    return canonicalText(standing.period, heldBy(standing.period, said, standing.seal.entry.digest?.name) ?? said);
  }
  const period = periodUpTo(workspace, upTo);
  return canonicalText(period, { files: filesNow(workspace, period), replaces: [], because: undefined });
};

const filesNow = (workspace: Workspace, period: Period): readonly FileDigest[] =>
  filesOf(workspace, period).map((path) => ({ path, digest: workspace.proofs.get(path) ?? 'missing' }));
