/** Differences with a buyer that stay open: what a settlement and the journal still say otherwise, and nobody has accepted. */
import type { Line, Subject } from '../../engine/selling/stated';
import { acceptedIn } from '../../journal/accepted';
import { sum } from '../../quantity/decimal';
import { type Money, money } from '../../quantity/money';
import type { Place } from '../../text/place';
import { overlaps } from '../../text/span';
import type { Workspace } from '../workspace';
import type { Settlement } from './settlements';

/** Which finding tells which lines of a settlement. */
export const LINES_TOLD = {
  'settled-weight': ['received', 'melted'],
  'settled-assay': ['assay'],
  'settled-terms': ['pays', 'less', 'keeps', 'charge'],
  'settled-price': ['price'],
  'settled-total': ['returns', 'payable', 'worth', 'total'],
  'silver-unpaid': ['unpaid'],
  'settled-below-offer': ['offer'],
} as const satisfies Readonly<Record<string, readonly Subject[]>>;

const codeOf = (subject: Subject): string | undefined =>
  Object.entries(LINES_TOLD).find(([, told]) => (told as readonly Subject[]).includes(subject))?.[0];

/** Whether a comment accepts what a finding says there, with a reason. */
export const isAccepted = (workspace: Workspace, code: string | undefined, place: Place): boolean => {
  const section = workspace.pages.get(place.anchor.file)?.page.sections.find((one) => one === place.anchor);
  const accepted = section ? acceptedIn(section) : [];
  return accepted.some((one) => one.code === code && one.reason !== '' && overlaps(one.reach, place));
};

export const openLines = (workspace: Workspace, { checked, sale }: Settlement): readonly Line[] =>
  checked.lines.filter(
    ({ verdict, subject, place }) =>
      verdict === 'differs' && !isAccepted(workspace, codeOf(subject), place ?? sale.entry.head),
  );

/** What it is short of by the lines that are open; below nought too much was paid. Nothing where none is. */
export const openOwed = (workspace: Workspace, of: Settlement): Money => {
  const open = openLines(workspace, of);
  if (open.length === 0) return money(0, of.currency);
  if (open.length === of.checked.lines.filter(({ verdict }) => verdict === 'differs').length) return of.checked.owed;
  return money(sum(open.flatMap(({ owed }) => (owed ? [owed.amount] : []))), of.currency);
};
