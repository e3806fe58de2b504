/** The record, for an editor that asks: a seal as it would be written, and what changed since an older text of a page. */
import { changesBetween } from '../features/difference';
import { changesText } from '../features/difference-words';
import { recordOf } from '../record/breaks';
import { draftOf, draftText, unfitDay } from '../record/draft';
import { pathBelow } from '../record/files';
import { sealsOf } from '../record/periods';
import { forgottenSeals, withRemembered } from '../record/remembered';
import { periodUpTo, saidBy } from '../record/seal';
import { isDate } from '../text/calendar';
import { emptyWorkspace, withTexts } from '../workspace/update';
import type { Workspace } from '../workspace/workspace';
import { listIn, textIn, uriIn } from './checks';
import { sheetOf } from './publish';
import { askedOf } from './requests';
import { fileId, type Server, wake } from './server';
import { journalOf } from './session';
import { fieldOf } from './settings';

export type SealAnswer =
  /** The page to be made, and its name. */
  { readonly name: string; readonly text: string } | { readonly refused: string };

/**
 * `date` is the last day that is closed; of the journal of a page. `former` are texts of pages of seals as they once were, `{ uri, text }`: a seal that
 * is gone is not made anew in silence. Nothing is written: the client makes the page, as an edit that can be undone.
 */
export const sealDraft = (server: Server, params: unknown): SealAnswer => {
  const upTo = textIn(params, 'date');
  const asked = askedOf(server, params);
  if (!asked) return { refused: 'This page belongs to no journal.' };
  if (!isDate(upTo)) return { refused: `"${upTo}" is no date, year first.` };
  const { live } = asked.view;
  const unfit = unfitDay(live, upTo);
  if (unfit) return { refused: unfit };
  if (recordOf(live).breaks.size > 0) return { refused: 'The record differs from its seals: mend that first.' };
  const gone = goneOf(server, live, upTo, formerIn(params));
  if (gone) {
    const [, last] = [gone, upTo].sort();
    return {
      refused: `The record was sealed up to ${gone} once, as git has it. Put that seal back; or, where two hands sealed apart, seal anew in a terminal and say so: fineweight seal ${last} --because "two hands sealed apart".`,
    };
  }
  const draft = draftOf(live, upTo);
  if (draft.kind === 'unchained') return { refused: `The seal of ${draft.before} has no digest yet: it comes first.` };
  if (draft.kind === 'waiting') {
    const [file = ''] = [...draft.missing, ...draft.unknown];
    return { refused: `${file} cannot be read, and so not be sealed. Save the page, and put the file beside it.` };
  }
  return { name: `seal-${upTo}.melt`, text: `${upTo}\n\n${draftText(upTo, draft)}\n` };
};

/** A client that knows of none need not say so. */
const formerIn = (params: unknown): readonly unknown[] =>
  fieldOf(params, 'former') === undefined ? [] : listIn(params, 'former');

/**
 * The day of a seal in former texts of pages of this journal that stands nowhere, nor is named by one that was openly made anew instead; of the time
 * that a new one would close.
 */
const goneOf = (server: Server, live: Workspace, upTo: string, former: readonly unknown[]): string | undefined => {
  const standing = [...server.session.journals.values()].flatMap((journal) => sealsOf(journal.live));
  const known = new Set(standing.flatMap(({ entry, section }) => [entry.digest?.name, ...saidBy(section).replaces]));
  const ours = former.filter((one) => pathBelow(live.root, fileId(server, textIn(one, 'uri'))) !== undefined);
  const seals = ours.flatMap((one) =>
    sealsOf(withTexts(emptyWorkspace('/'), new Map([['/page.melt', textIn(one, 'text')]]))),
  );
  const { after = '' } = periodUpTo(live, upTo);
  const gone = seals.filter((one) => one.entry.digest && !known.has(one.entry.digest.name) && one.upTo > after);
  return gone
    .map((one) => one.upTo)
    .sort()
    .at(-1);
};

/** `text` is an older text of the page; the answer is the same as `fineweight diff` prints. */
export const changesSince = (server: Server, params: unknown): string => {
  const text = textIn(params, 'text');
  const asked = askedOf(server, params);
  if (!asked) return '';
  const { live } = asked.view;
  return changesText(
    changesBetween(withTexts(live, new Map([[asked.file, text]])), live, asked.file),
    (_, words) => words,
  );
};

/** A broken seal of which an older text of the pages would tell what changed: its digest, and the page that it stands on. */
interface ForgottenSeal {
  readonly digest: string;
  readonly uri: string;
}

/** Of the journal of a page. The client asks its own git: the server runs nothing. */
export const forgotten = (server: Server, params: unknown): readonly ForgottenSeal[] => {
  const asked = askedOf(server, params);
  if (!asked?.view.live.whole) return [];
  return forgottenSeals(asked.view.live).flatMap(({ digest, file }) => {
    const sheet = sheetOf(server.session, file);
    return sheet ? [{ digest, uri: sheet.uri }] : [];
  });
};

/** Texts of pages and of the workshop file as they were when a seal was made. Nothing of them is believed: the seal's marks tell which fit. */
export const remember = (server: Server, params: unknown): null => {
  const journal = journalOf(server.session, fileId(server, uriIn(params)));
  if (!journal) return null;
  const texts = new Map(listIn(params, 'texts').map((one) => [textIn(one, 'uri'), textIn(one, 'text')]));
  const isSettled = journal.settled === journal.live;
  journal.live = withRemembered(journal.live, texts);
  journal.settled = isSettled ? journal.live : { ...journal.settled, remembered: journal.live.remembered };
  for (const file of journal.live.pages.keys()) server.session.stale.add(file);
  wake(server);
  return null;
};
