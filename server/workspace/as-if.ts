/** The journal as it would be if some of its entries read otherwise. Nothing is booked: it is another value beside the journal. */
import type { Amount, Entry, Flow } from '../engine/entry';
import { decimal, decimalsOf } from '../quantity/decimal';
import type { Section } from '../syntax/tree';
import { inheritAccounts } from './accounts';
import { withTexts } from './update';
import type { Workspace } from './workspace';

export interface AsIf {
  readonly workspace: Workspace;
  /** The entry as it reads there; undefined where its text is no entry. */
  readonly entryOf: (entry: Entry) => Entry | undefined;
}

const made = new WeakSet<Workspace>();

/** It is such a value: what it books never was. */
export const isAsIf = (workspace: Workspace): boolean => made.has(workspace);

/** Each text stands in its entry's place, as one entry. */
export const asIf = (workspace: Workspace, texts: ReadonlyMap<Entry, string>): AsIf => {
  const changes = new Map<string, string>();
  const own = new Set<unknown>();
  for (const file of new Set([...texts.keys()].map(({ anchor }) => anchor.file))) {
    const page = workspace.pages.get(file);
    if (!page) continue;
    for (const section of page.page.sections) own.add(section);
    const bySection = new Map([...texts].map(([entry, text]) => [entry.anchor, text]));
    changes.set(file, page.page.sections.map((section) => bySection.get(section) ?? section.text).join(''));
  }
  // What name an unknown one was meant for is asked of the journal itself: it would cost more than all the rest.
  const read = (entry: Entry): Entry => (own.has(entry.anchor) ? entry : nominal(entry));
  const after = { ...withTexts(workspace, changes, false, { asRead: read }), whole: workspace.whole };
  inheritAccounts(workspace, after);
  made.add(after);
  return {
    workspace: after,
    entryOf: ({ anchor }) => {
      const at = workspace.pages.get(anchor.file)?.page.sections.indexOf(anchor as Section) ?? -1;
      const page = after.pages.get(anchor.file);
      const section = page?.page.sections[at];
      return section && page.bySection.get(section);
    },
  };
};

/**
 * What a plan writes with `~` is what is meant to be weighed, not a weighing that may be out by a tenth: it is as good as its digits. What is not
 * known of its metals stays with these.
 */
const nominal = (entry: Entry): Entry => {
  if (!entry.flows.some(({ amount }) => amount && isLoose(amount))) return entry;
  return { ...entry, flows: entry.flows.map(sharpened) };
};

const isLoose = ({ guessed, spread, figure }: Amount): boolean =>
  guessed && !spread && figure?.form === 'reading' && figure.digits.unit !== undefined;

const sharpened = (flow: Flow): Flow => {
  const { amount } = flow;
  if (amount?.figure?.form !== 'reading' || !isLoose(amount)) return flow;
  const { digits } = amount.figure;
  const half = { ...digits, text: '', value: decimal(10).pow(-decimalsOf(digits.text)).div(2) };
  return { ...flow, amount: { ...amount, spread: { half, meaning: 'limits' } } };
};
