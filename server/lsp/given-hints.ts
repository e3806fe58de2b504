/** The hints that the client has, so that a tooltip can be fetched for one, and it be told when others are to be had. */
import type { WantedHints } from '../features/hints';
import type { Span } from '../text/span';
import { type Session, viewOf } from './session';
import { shownHints } from './still-hints';

/** By file, the newest answer first. */
export type GivenHints = Map<string, readonly Given[]>;

export interface Given {
  readonly stamp: number;
  readonly range: Span;
  readonly version: number | undefined;
  readonly hints: ReturnType<typeof shownHints>;
}

/** An editor with one file in several panes asks for several ranges. */
const KEPT_ANSWERS = 6;

/** Keeps an answer, and gives the stamp to find it by. */
export const keepGiven = (given: GivenHints, file: string, answer: Omit<Given, 'stamp'>): number => {
  const before = given.get(file) ?? [];
  const stamp = (before[0]?.stamp ?? 0) + 1;
  given.set(file, [{ stamp, ...answer }, ...before].slice(0, KEPT_ANSWERS));
  return stamp;
};

/** True when an open file would now get other hints than it last got. One that was edited since asks by itself. */
export const hintsMoved = (given: GivenHints, session: Session, wanted: WantedHints): boolean =>
  [...session.open].some(([file, { lines }]) =>
    (given.get(file) ?? []).some(({ version, range, hints }) => {
      const view = viewOf(session, file);
      if (!view || version !== lines.version) return false;
      return digestOf(shownHints(view, file, range, wanted)) !== digestOf(hints);
    }),
  );

/** Without tooltips: a client fetches these anew when it shows one. */
const digestOf = (hints: Given['hints']): string => JSON.stringify(hints.map(({ offset, label }) => [offset, label]));
