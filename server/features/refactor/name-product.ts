/** A product that is only called after its entry gets a name of its own, wherever the record speaks of it. */
import { lastFigures } from '../../text/runs';
import { mentionsOf } from '../names';
import { flowOn, type Offer } from './refactoring';

export const nameProduct: Offer = (spot) => {
  const { workspace, page, entry, start } = spot;
  const { book } = workspace;
  const flow = flowOn(spot);
  if (flow?.word !== 'out' || !flow.lot || !flow.kind || !entry.name || flow.none) return undefined;
  const called = flow.lot.name;
  if (called !== `${entry.name.name}.${flow.kind}`) return undefined;
  // Others of its kind are counted from it, and what a later `more` adds joins it.
  const isJoined = book
    .account(entry)
    .parts.some(
      ({ anchor, flows }) =>
        anchor !== entry.anchor && flows.some(({ word, lot }) => word === 'out' && lot?.name === called),
    );
  if (book.lot(`${called}-2`) || isJoined) return undefined;
  const name = freeName(flow.kind, entry.name.name, (one) => book.lot(one) !== undefined || book.mentioned(one));
  const behindWord = start + flow.place.start + 'out'.length;
  const mentions = mentionsOf(workspace, { kind: 'lot', name: called, verb: undefined });
  return {
    title: `Give ${called} a name of its own: ${name}`,
    kind: 'extract',
    edits: [
      { file: page.file, start: behindWord, end: behindWord, text: ` ${name}` },
      ...mentions.map(({ file, start: from, end }) => ({ file, start: from, end, text: name })),
    ],
  };
};

/** `S57` for the slag of `M57`; with a letter behind it where that is taken. */
const freeName = (kind: string, step: string, isTaken: (name: string) => boolean): string => {
  const last = lastFigures(step);
  const name = `${kind.charAt(0).toUpperCase()}${last ? `${last.figures}${last.behind}` : step}`;
  const letters = ['', ...'abcdefghijklmnopqrstuvwxyz'];
  const free = letters.find((letter) => !isTaken(`${name}${letter}`));
  return free === undefined ? `${name}-${step}` : `${name}${free}`;
};
