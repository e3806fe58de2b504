/**
 * Takes in what was read of the folders, in slices between which messages are answered and findings shown. It can be stopped: then only open pages
 * and what they rest on are still taken in, so that what is said of them stays right, and the rest waits until somebody wants it.
 */

import { lookAtProofs } from './proofs';
import { LSPErrorCodes } from './protocol';
import { attempt, logFailure, type Server, sendStatus, wake } from './server';
import { isSure } from './session';
import { fieldOf } from './settings';
import { hasMore, openSome, taken, waitingLength } from './texts';
import { RefusedRequest, warnUser } from './wire';

/** Below so many characters no progress is shown: it would only flash. */
const PROGRESS_FROM_LENGTH = 200_000;
/** Taking in what was read leaves off after so long, to let others in. */
const OPEN_MS = 20;

/** Takes in all that waits; once that was stopped, what open pages rest on. To be called when there may be something. */
export const takeIn = async (server: Server): Promise<void> => {
  if (server.isOpening || !server.isReady || !hasMore(server.session)) return;
  server.isOpening = true;
  const whole = waitingLength(server.session);
  const progress = beginProgress(server, whole);
  while (openSlice(server)) {
    wake(server);
    resumeWaiting(server);
    progress(Math.floor(99 * (1 - waitingLength(server.session) / Math.max(1, whole))));
    await letOthersIn(server);
  }
  server.isOpening = false;
  progress(100);
  resumeWaiting(server);
  wake(server);
  lookAtProofs(server);
  if (!server.timer) sendStatus(server, 0);
};

/** Stops it; what is not taken in is told. */
const stop = (server: Server): void => {
  if (server.session.stopped || !server.isOpening) return;
  server.session.stopped = true;
  warnUser(server.connection, `${stoppedIn(server)} ${WHAT_IS_MISSING}`);
  resumeWaiting(server);
  sendStatus(server, 0);
  // Whoever shows more than pages is told that there is no more to wait for.
  if (server.client.wantsStatus) void server.connection.sendNotification('fineweight/changed');
};

const stoppedIn = ({ session }: Server): string =>
  `Reading was stopped: ${taken(session)} of ${session.homes.size} files are read.`;

const WHAT_IS_MISSING =
  'Open pages are right; findings of the others, what is on hand and all sums are missing. It is read on when you ask for what needs every page (a rename, a search, a document), or restart the server.';

/** Goes on where it was stopped. */
export const readOn = (server: Server): void => {
  server.session.stopped = false;
  void takeIn(server);
};

/** Waits until what is asked of a file can be answered as it will be answered once all is read. */
export const untilSure = async (server: Server, file: string | undefined): Promise<void> => {
  while (!server.isReady) await server.ready;
  void takeIn(server);
  while (file !== undefined && server.isOpening && !isSure(server.session, file)) await untilMore(server);
};

/** Waits until all that the folders hold is read: what is asked rests on every page. Where that was stopped, it goes on; where it is stopped meanwhile, that is the answer. */
export const untilWhole = async (server: Server): Promise<void> => {
  while (!server.isReady) await server.ready;
  readOn(server);
  while (server.isOpening && !server.session.stopped) await untilMore(server);
  if (server.session.stopped) throw new RefusedRequest(LSPErrorCodes.RequestCancelled, stoppedIn(server));
};

/** Waits until all is read, or that was stopped. */
export const untilWholeOrStopped = async (server: Server): Promise<void> => {
  while (!server.isReady) await server.ready;
  while (server.isOpening && !server.session.stopped) await untilMore(server);
};

const untilMore = ({ waiting }: Server): Promise<void> => new Promise((resume) => waiting.add(resume));

/** A message is read in one turn of the loop, handled in the next, and its answer sent in the one after. */
const letOthersIn = async ({ disk }: Server): Promise<void> => {
  for (let turn = 0; turn < 3; turn++) await disk.pause();
};

const resumeWaiting = ({ waiting }: Server): void => {
  for (const resume of waiting) resume();
  waiting.clear();
};

/** False when all is taken in. A page that fails costs itself alone: it no longer waits. */
const openSlice = (server: Server): boolean => {
  const end = server.now() + OPEN_MS;
  let more = true;
  attempt(server, 'taking in what was read', () => {
    more = openSome(server.session, () => server.now() < end);
  });
  return more;
};

/** Shows how far the opening is, in percent, where the client can; nobody waits for its leave. At 100 it is done. */
const beginProgress = (server: Server, length: number): ((percent: number) => void) => {
  if (!server.client.progress || length < PROGRESS_FROM_LENGTH) return () => {};
  let reached = 0;
  let isShown = false;
  const token = `reading-${server.now()}`;
  server.progressToken = token;
  const tell = (value: object): void => void server.connection.sendNotification('$/progress', { token, value });
  const show = (percent: number): void => {
    reached = percent;
    if (isShown) tell(percent < 100 ? { kind: 'report', percentage: percent } : { kind: 'end' });
  };
  server.connection.sendRequest('window/workDoneProgress/create', { token }).then(
    () => {
      isShown = true;
      tell({ kind: 'begin', title: 'Reading the journal', percentage: 0, cancellable: true });
      show(reached);
    },
    (error: unknown) => logFailure(server, 'showing progress', error),
  );
  return show;
};

/** By the button of a client, which may also stop what it was not offered to. */
export const progressCancelled = (server: Server, params: unknown): void => {
  if (fieldOf(params, 'token') === server.progressToken) stop(server);
};
