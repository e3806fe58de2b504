/** Where capitals say nothing: the words of the language at the start of an entry, a detail or a remark. */
import type { Span } from '../text/span';
import type { LineNode, Section } from './tree';

/** The words of a line that are understood in capitals too, in the order of the text. */
export const wordsWithoutCase = (section: Section, line: LineNode): readonly Span[] => {
  const head = [section.prefix, section.verb?.node].flatMap((node) =>
    node && line.start <= node.start && node.start < line.end ? [node] : [],
  );
  const words = line.pieces.flatMap(({ word, row, kind }) => (word && row && kind !== 'reading' ? [word] : []));
  const spans = new Map([...words, ...head].map((span) => [span.start, span] as const));
  return [...spans.values()].sort((a, b) => a.start - b.start);
};
