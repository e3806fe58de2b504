/** `# accepted CODE: reason`: a finding silenced where it stands. On a line of details it speaks of that line, elsewhere of the whole entry. */
import type { Section } from '../syntax/tree';
import { type Place, placeIn } from '../text/place';
import { overlaps, type Span } from '../text/span';

export interface Accepted {
  readonly code: string;
  readonly reason: string;
  readonly place: Place;
  /** What it speaks of. */
  readonly reach: Span;
}

/** Whether a comment beside it accepts, with a reason, what is said there. */
export const isAcceptedAt = ({ anchor, start, end }: Place, code: string): boolean =>
  acceptedIn(anchor as Section).some(
    (by) => by.code === code && by.reason !== '' && overlaps(by.reach, { start, end }),
  );

const WORD = 'accepted ';

export const acceptedIn = (section: Section): readonly Accepted[] => {
  const found = kept.get(section);
  if (found) return found;
  const list = section.text.includes(WORD) ? readAccepted(section) : NONE;
  kept.set(section, list);
  return list;
};

const NONE: readonly Accepted[] = [];
const kept = new WeakMap<Section, readonly Accepted[]>();

const readAccepted = (section: Section): readonly Accepted[] => {
  const whole = { start: 0, end: section.text.length };
  return section.lines.flatMap((line) => {
    if (!line.comment) return [];
    const text = section.text.slice(line.comment.start + 1, line.comment.end).trim();
    if (!text.startsWith(WORD)) return [];
    const rest = text.slice(WORD.length).trim();
    const colon = rest.indexOf(':');
    const code = (colon < 0 ? rest : rest.slice(0, colon)).trim();
    const reason = colon < 0 ? '' : rest.slice(colon + 1).trim();
    const ofLine = line.kind === 'details' || line.kind === 'clock' || line.kind === 'day';
    return [{ code, reason, place: placeIn(section, line.comment), reach: ofLine ? line : whole }];
  });
};
