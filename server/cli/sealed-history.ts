/** What changed since a broken seal was made, as git has it: the entries themselves, also those that are gone. */
import { type Change, entryChanges } from '../features/difference';
import { changesText } from '../features/difference-words';
import { type Break, type Checked, recordOf } from '../record/breaks';
import { findingsOf } from '../rules/findings';
import type { Finding } from '../rules/rule';
import { sealBroken } from '../rules/seal-broken';
import type { Section } from '../syntax/tree';
import type { Workspace } from '../workspace/workspace';
import { askGit, journalAt } from './git';
import type { OpenJournal } from './journals';
import type { Paint } from './paint';

/** Nothing where no seal is broken, or git does not have the commit that brought the seal. */
export const sincePage = (workspace: Workspace, paint: Paint): string =>
  changedSince(workspace)
    .map(({ checked, commit, changes }) => {
      const head = `Since the seal of ${checked.seal.upTo}, as git has it (commit ${short(commit)}):`;
      return `${head}\n${changesText(changes, paint)}`;
    })
    .join('\n');

interface Since {
  readonly checked: Checked;
  readonly commit: string;
  readonly changes: readonly Change[];
}

const changedSince = (workspace: Workspace): readonly Since[] => {
  const { root } = workspace;
  const broken = recordOf(workspace).seals.filter(({ breaks }) => breaks.some(({ kind }) => kind !== 'twice'));
  return broken.flatMap((checked) => {
    const { seal } = checked;
    const digest = seal.entry.digest?.name;
    const commit = digest === undefined ? undefined : commitWith(root, digest);
    if (commit === undefined) return [];
    const changes = entryChanges(journalAt(root, commit), workspace, undefined).filter(
      ({ what }) => what.slice(0, 10) <= seal.upTo,
    );
    return changes.length === 0 ? [] : [{ checked, commit, changes }];
  });
};

const short = (commit: string): string => commit.slice(0, 10);

/** The first commit that has the digest in a page. */
const commitWith = (root: string, digest: string): string | undefined => {
  const args = ['log', `-S${digest}`, '--format=%H', '--no-textconv', '--no-ext-diff', '--', '*.melt'];
  return askGit(root, args)?.trim().split('\n').at(-1) || undefined;
};

/** The same findings; those of a broken seal say what changed, for reports that have no room below them. */
export const withWhatChanged = (journal: OpenJournal): OpenJournal => {
  const { workspace, asked, found } = journal;
  const told = (file: string): readonly Finding[] => found?.get(file) ?? (found ? [] : findingsOf(workspace, file));
  if (!asked.some((file) => told(file).some(isOfSeal))) return journal;
  const since = changedSince(workspace);
  if (since.length === 0) return journal;
  return { ...journal, found: new Map(asked.map((file) => [file, saying(workspace, since, told(file))])) };
};

const isOfSeal = ({ code }: Finding): boolean => code === sealBroken.code;

/** The findings of a section come in the order of its breaks. */
const saying = (workspace: Workspace, since: readonly Since[], findings: readonly Finding[]): readonly Finding[] => {
  const { breaks } = recordOf(workspace);
  const nth = new Map<unknown, number>();
  return findings.map((finding) => {
    if (!isOfSeal(finding)) return finding;
    const { anchor } = finding.place;
    const at = nth.get(anchor) ?? 0;
    nth.set(anchor, at + 1);
    const one = breaks.get(anchor as Section)?.[at];
    const own = one && since.find(({ checked }) => checked.seal === one.seal);
    const what = own && whatChanged(one, own.changes);
    return what
      ? { ...finding, says: `${finding.says} As git has it (commit ${short(own.commit)}), ${what}.` }
      : finding;
  });
};

const MOST_NAMED = 3;

const whatChanged = (one: Break, changes: readonly Change[]): string | undefined => {
  if (one.kind === 'vanished') {
    const gone = changes.filter(({ what, now }) => what.startsWith(`${one.day} `) && now === undefined);
    return named(gone.map(({ what }) => `\`${what.slice(one.day.length + 1)}\` is gone`));
  }
  if (one.kind !== 'changed') return undefined;
  const own = changes.filter(({ place }) => place?.anchor === one.at.section);
  return named(own.map(({ was, now }) => lineChange(was, now)));
};

const lineChange = (was: string | undefined, now: string | undefined): string => {
  if (was === undefined) return `\`${now}\` is new`;
  return now === undefined ? `\`${was}\` is gone` : `\`${now}\` was \`${was}\``;
};

const named = (all: readonly string[]): string | undefined => {
  if (all.length === 0) return undefined;
  const more = all.length - MOST_NAMED;
  return `${all.slice(0, MOST_NAMED).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
};
