/** An entry cut in two: from a line on it goes on as `more`, for what was done on another day. */
import type { PieceNode } from '../../syntax/tree';
import { type Offer, textOf } from './refactoring';

export const splitEntry: Offer = (spot) => {
  const { page, entry, section, start, line } = spot;
  const { verb } = section;
  if (!entry.name || !verb || entry.prefix === 'plan' || entry.prefix === 'correct' || entry.prefix === 'void')
    return undefined;
  const lines = section.lines.filter(({ kind }) => kind !== 'blank');
  const at = lines.indexOf(line);
  if (at < 2) return undefined;
  // A time counts on the date last written above it; cut off from that it would be of another day.
  if (lines.slice(0, at).some(({ clock }) => clock?.date)) return undefined;
  const said = lines
    .slice(0, at)
    .flatMap(ofAllLines)
    .map((piece) => `, ${textOf(spot, piece)}`);
  const name = textOf(spot, entry.name.place);
  const head = `more ${verb.node.text} ${name}${said.join('')}`;
  const here = start + line.start;
  return {
    title: `Split: from this line on it goes on as “more ${verb.node.text} ${name}”`,
    kind: 'rewrite',
    edits: [{ file: page.file, start: here, end: here, text: `\n${head}\n` }],
  };
};

/** What an entry's first line, or a line of its own, says of every line: it must go on being said. */
const ofAllLines = ({ pieces, kind }: { readonly pieces: readonly PieceNode[]; readonly kind: string }) => {
  const isAlone = kind === 'head' || pieces.every((piece) => piece.kind === 'remark');
  return isAlone ? pieces.filter((piece) => piece.kind === 'remark' && !OF_ENTRY.has(piece.word?.text ?? '')) : [];
};

/** Said of the entry, which is still the same. */
const OF_ENTRY: ReadonlySet<string> = new Set(['hand', 'witness', 'photo', 'paper', 'because', 'note']);
