/** What is found and not told: accepted where it stands, or asked for too late. */
import type { Entry } from '../engine/entry';
import type { Accepted } from '../journal/accepted';
import { closedUpTo } from '../record/periods';
import { overlaps } from '../text/span';
import type { Workspace } from '../workspace/workspace';
import { acceptedNothing } from './accepted-nothing';
import { acceptedWithoutReason } from './accepted-without-reason';
import { HISTORY_CODES } from './history-matches';
import { LOOK_BACK_CODES } from './look-back';
import { type Finding, finding, type Rule } from './rule';

/** Its day is sealed. */
export const isTooLate = (workspace: Workspace, { date }: Entry, { ofOpenDays }: Rule): boolean =>
  ofOpenDays === true && (date ?? '') <= closedUpTo(workspace);

/** Takes out what was accepted with a reason, and says where an acceptance has none or silences nothing. */
export const silence = (
  found: readonly Finding[],
  accepted: readonly Accepted[],
  withHistories: boolean,
): readonly Finding[] => {
  if (accepted.length === 0) return found;
  const silences = (by: Accepted, of: Finding): boolean => by.code === of.code && overlaps(by.reach, of.place);
  const kept = found.filter((of) => !accepted.some((by) => by.reason !== '' && silences(by, of)));
  const said = accepted.flatMap((by) => {
    if (by.reason === '') return [finding(acceptedWithoutReason, acceptedWithoutReason.match(by))];
    const looked = withHistories || !(HISTORY_CODES.has(by.code) || LOOK_BACK_CODES.has(by.code));
    if (looked && !found.some((of) => silences(by, of))) return [finding(acceptedNothing, acceptedNothing.match(by))];
    return [];
  });
  return [...kept, ...said];
};
