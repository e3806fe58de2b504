/** A plan turned into the done entry: what was guessed is left to be weighed, and stands behind its line as what was planned. */
import type { Amount } from '../engine/entry';
import type { Section } from '../syntax/tree';
import type { Plan } from './plans';

/** Begins the comment that keeps a planned figure. */
export const PLANNED = '# planned ';

/** The entry without `plan`; each guessed amount is a `?` with its unit, its figure in a comment at the end of the line. */
export const doneText = ({ job: { entry } }: Plan): string => {
  const { text } = entry.anchor as Section;
  const amounts = [
    ...entry.flows.flatMap(({ amount, said }) => [amount, said.before, said.after]),
    ...entry.gear.flatMap(({ said }) => [said.before, said.after]),
  ].filter((amount): amount is Amount => amount?.guessed === true);
  const starts = new Set<number>();
  const edits = amounts.flatMap(({ place, unit }) => {
    if (starts.has(place.start)) return [];
    starts.add(place.start);
    const figure = text.slice(place.start, place.end).replace('~', '');
    return [{ start: place.start, end: place.end, put: unit ? `? ${unit.symbol}` : '?', figure }];
  });
  let at = 0;
  const lines = text.split('\n').map((line) => {
    const [start, end] = [at, at + line.length];
    at = end + 1;
    const own = edits.filter((edit) => edit.start >= start && edit.end <= end).sort((a, b) => b.start - a.start);
    if (own.length === 0) return line;
    const body = own.reduce(
      (so, edit) => so.slice(0, edit.start - start) + edit.put + so.slice(edit.end - start),
      line,
    );
    const figures = own
      .map(({ figure }) => figure)
      .reverse()
      .join(', ');
    return `${body.trimEnd()}  ${PLANNED}${figures}`;
  });
  return lines.join('\n');
};
