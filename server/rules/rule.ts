/** What a rule is, and what it finds. One file a rule; the file's name is the code. */
import type { History } from '../engine/accounts/history';
import type { Account, Book, LotStory } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { Workshop } from '../engine/workshop';
import type { JournalPage } from '../journal/page';
import type { Break } from '../record/breaks';
import type { SealDraft } from '../record/draft';
import type { FileState } from '../record/proofs';
import type { Problem, ProblemCode, Section } from '../syntax/tree';
import { type Edit, type Place, placeIn } from '../text/place';
import type { Accounts } from '../workspace/accounts';
import type { LongView } from '../workspace/long-view';
import type { Workspace } from '../workspace/workspace';

export type Severity = 'error' | 'warning' | 'hint';

export interface Related {
  readonly place: Place;
  readonly says: string;
}

export interface Fix {
  /** What the hand would do: `Write 58.16 g here`. */
  readonly title: string;
  readonly edits: readonly Edit[];
  /** Changes only white space or the case of words: may run in a fix-all. */
  readonly safe: boolean;
  readonly preferred?: boolean;
}

/** One thing wrong, at one place. */
export interface Match {
  readonly place: Place;
  readonly says: string;
  readonly related?: readonly Related[];
  readonly fixes?: readonly Fix[];
  /** Rests on a guess somewhere: less sure, not less grave. */
  readonly unsure?: boolean;
}

export interface Finding extends Match {
  readonly code: string;
  readonly severity: Severity;
  /** Cannot be true whatever follows: said even while its entry is being typed. */
  readonly atOnce: boolean;
}

/** What a rule may look at beside its subject. */
export interface Look {
  readonly workshop: Workshop;
  readonly book: Book;
}

/** The page that explains a rule; every example is run by a test. */
export interface RulePage {
  readonly code: string;
  readonly severity: Severity;
  readonly atOnce: boolean;
  /** The matter in a few trade words. */
  readonly title: string;
  /** Why it matters, and what to do. */
  readonly why: string;
  /** A page that shows it once. */
  readonly wrong: string;
  /** The same page mended. */
  readonly right: string;
  /** Where a threshold comes from. */
  readonly source?: string;
  /** Another page that both examples need. */
  readonly beside?: string;
  /** A workshop file that both examples need. */
  readonly workshop?: string;
  /** Digests of files that both examples name. */
  readonly files?: Readonly<Record<string, string | null>>;
}

/** Subjects of a rule. Each is a value that is remade when anything that it rests on changes, so results are kept with it. */
export interface Checks {
  /** A thing that the form of the text shows. */
  readonly problem?: (problem: Problem, section: Section) => Omit<Match, 'place'> & { readonly place?: Place };
  readonly entry?: (account: Account, look: Look) => Iterable<Match>;
  readonly lot?: (story: LotStory, look: Look) => Iterable<Match>;
  readonly page?: (page: JournalPage) => Iterable<Match>;
  /** What is known of metals may come from any page; the results are kept as long as all that is known of the entry's lots is the same. */
  readonly metal?: (subject: MetalSubject) => Iterable<Match>;
  /** What the seals say of a section, and the files that it names: told whatever is accepted. */
  readonly record?: (subject: RecordSubject) => Iterable<Match>;
  /** A plan as it stands, in the journal that it stands in; asked each time, for prices and terms may change on any page. */
  readonly plan?: (entry: Entry, workspace: Workspace) => Iterable<Match>;
  /** A whole connected history: not looked at while somebody types. */
  readonly history?: (subject: HistorySubject) => Iterable<HistoryMatch>;
  /** The record looked back on, all kinds of step and all scales: as seldom. */
  readonly lookBack?: (subject: LookBackSubject) => Iterable<HistoryMatch>;
  /** Asks for the metals of the whole record: left to the command line. */
  readonly asksForMetals?: true;
}

export interface LookBackSubject {
  readonly view: LongView;
  readonly accounts: Accounts;
  readonly look: Look;
}

export interface RecordSubject {
  readonly section: Section;
  /** Of an entry. */
  readonly entry: Entry | undefined;
  /** Where the record differs from what was sealed, as far as it is told here. */
  readonly breaks: readonly Break[];
  /** Photos and papers that the entry names. */
  readonly files: readonly FileState[];
  /** What sealed entries said, by their marks, as far as it is known. */
  readonly remembered: Workspace['remembered'];
  /** The entry of a seal as it would be written now; for a seal without a digest alone. */
  readonly written: () => SealDraft;
}

export interface HistorySubject {
  readonly history: History;
  readonly accounts: Accounts;
  readonly look: Look;
}

export interface HistoryMatch extends Match {
  /** Where else the cause may lie: the match is not told where something else is wrong in one of these entries. */
  readonly causes: readonly Place[];
}

export interface MetalSubject {
  readonly workspace: Workspace;
  readonly account: Account;
  /** The entry as it counts: corrected. */
  readonly entry: Entry;
  readonly accounts: Accounts;
  readonly look: Look;
}

export interface Rule extends RulePage, Checks {
  /** Told of a plan too, as if it were done. */
  readonly ofPlans?: boolean;
  /** Told only until its day is sealed: what it asks for can then no longer be written. */
  readonly ofOpenDays?: boolean;
}

export const rule = (of: Rule): Rule => of;

export const finding = ({ code, severity, atOnce }: Rule, match: Match): Finding => ({
  ...match,
  code,
  severity,
  atOnce,
});

/** A rule about the form of the text: the parser has found it, the rule puts it into words. */
export const formRule = (
  of: RulePage & {
    readonly code: ProblemCode;
    readonly says: (problem: Problem) => string;
    readonly fix?: (problem: Problem) => string;
    readonly safe?: boolean;
  },
): Rule => {
  const { says, fix, safe, ...page } = of;
  return {
    ...page,
    problem: (problem, section) => {
      const mend = problem.mend;
      if (!mend || !fix) return { says: says(problem) };
      const edits = [{ at: placeIn(section, mend), text: mend.text }];
      return { says: says(problem), fixes: [{ title: fix(problem), edits, safe: safe ?? false, preferred: true }] };
    },
  };
};
