/** The record, for an editor that asks: a seal as it would be written, and what changed since an older text of a page. */
import { changesBetween } from '../features/difference';
import { changesText } from '../features/difference-words';
import { recordOf } from '../record/breaks';
import { draftOf, draftText, unfitDay } from '../record/draft';
import { forgottenSeals, withRemembered } from '../record/remembered';
import { isDate } from '../text/calendar';
import { withTexts } from '../workspace/update';
import { listIn, textIn, uriIn } from './checks';
import { sheetOf } from './publish';
import { askedOf } from './requests';
import { fileId, type Server, wake } from './server';
import { journalOf } from './session';

export type SealAnswer =
  /** The page to be made, and its name. */
  { readonly name: string; readonly text: string } | { readonly refused: string };

/** `date` is the last day that is closed; of the journal of a page. Nothing is written: the client makes the page, as an edit that can be undone. */
export const sealDraft = (server: Server, params: unknown): SealAnswer => {
  const upTo = textIn(params, 'date');
  const asked = askedOf(server, params);
  if (!asked) return { refused: 'This page belongs to no journal.' };
  if (!isDate(upTo)) return { refused: `"${upTo}" is no date, year first.` };
  const { live } = asked.view;
  const unfit = unfitDay(live, upTo);
  if (unfit) return { refused: unfit };
  if (recordOf(live).breaks.size > 0) return { refused: 'The record differs from its seals: mend that first.' };
  const draft = draftOf(live, upTo);
  if (draft.kind === 'unchained') return { refused: `The seal of ${draft.before} has no digest yet: it comes first.` };
  if (draft.kind === 'waiting') {
    const [file = ''] = [...draft.missing, ...draft.unknown];
    return { refused: `${file} cannot be read, and so not be sealed. Save the page, and put the file beside it.` };
  }
  return { name: `seal-${upTo}.melt`, text: `${upTo}\n\n${draftText(upTo, draft)}\n` };
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
