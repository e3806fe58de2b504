/** What time brings about: which files are to be looked at now, and when to ask again. */
import { isWorkshop } from '../files/names';
import { isSure, LOOK_AFTER_MS, PAUSE_AFTER_MS, REST_AFTER_MS, type Session } from './session';
import { catchUp, settle } from './typing';

export interface Tick {
  /** Files whose findings may have changed. */
  readonly files: readonly string[];
  /** Hints outside of the entry being typed may have changed. */
  readonly moved: boolean;
}

/** All findings are to be looked at again, as after a change of settings. */
export const reviewAll = (session: Session): void => {
  for (const id of session.homes.keys()) session.stale.add(id);
  session.moved = true;
};

/** Does what is due, and says what is to be looked at. */
export const tick = (session: Session, now: number): Tick => {
  passTime(session, now);
  const files = [...session.stale].filter((id) => !isHeld(session, id));
  for (const id of files) session.stale.delete(id);
  const { moved } = session;
  session.moved = false;
  return { files, moved };
};

/** A file is not looked at while a hand is moving in it, nor before all that it rests on has been read. */
export const isHeld = (session: Session, id: string): boolean => {
  const { typing } = session;
  return (
    (id === typing?.file && (!typing.looked || isWorkshop(id))) || waitsForSave(session, id) || !isSure(session, id)
  );
};

/** An entry not saved yet bears on every page of its journal. What a page had stays. */
const waitsForSave = ({ checksOnSave, unsaved, homes }: Session, id: string): boolean =>
  checksOnSave && [...unsaved].some((one) => homes.get(one) === homes.get(id));

/** The time of the next tick that will have something to do; none while all is still. */
export const nextDue = (session: Session, now: number): number | undefined => {
  const { typing } = session;
  if (session.moved || [...session.stale].some((id) => !isHeld(session, id))) return now;
  if (!typing) return undefined;
  const waits = [
    typing.looked ? undefined : LOOK_AFTER_MS,
    typing.paused ? undefined : PAUSE_AFTER_MS,
    typing.rested ? undefined : REST_AFTER_MS,
    typing.overAfter,
  ].filter((wait) => wait !== undefined);
  return waits.length > 0 ? Math.max(now, typing.at + Math.min(...waits)) : undefined;
};

const passTime = (session: Session, now: number): void => {
  const { typing } = session;
  if (!typing) return;
  const rest = now - typing.at;
  if (typing.overAfter !== undefined && rest >= typing.overAfter) {
    settle(session);
    return;
  }
  if (rest >= PAUSE_AFTER_MS && !typing.paused) {
    typing.paused = true;
    catchUp(session, session.journals.get(typing.root));
  }
  if (rest >= REST_AFTER_MS && !typing.rested) {
    typing.rested = true;
    session.stale.add(typing.file);
  }
  if (rest >= LOOK_AFTER_MS && !typing.looked) {
    typing.looked = true;
    session.stale.add(typing.file);
  }
};
