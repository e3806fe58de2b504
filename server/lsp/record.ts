/** The record, for an editor that asks: a seal as it would be written, and what changed since an older text of a page. */
import { changesBetween } from '../features/difference';
import { changesText } from '../features/difference-words';
import { recordOf } from '../record/breaks';
import { draftOf, draftText, unfitDay } from '../record/draft';
import { isDate } from '../text/calendar';
import { withTexts } from '../workspace/update';
import { textIn } from './checks';
import { askedOf } from './requests';
import type { Server } from './server';

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
