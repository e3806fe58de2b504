/**
 * A place that survives edits elsewhere: offsets count from the start of an anchor (a day, an entry, or a whole file),
 * and only the page knows where its anchors stand today. So a finding made for an unchanged entry stays right
 * when lines above it come and go.
 */
import type { Span } from './span';

export interface Anchor {
  /** The file, as the workspace names it. */
  readonly file: string;
}

export interface Place extends Span {
  readonly anchor: Anchor;
}

export const placeIn = (anchor: Anchor, range: Span): Place => ({ anchor, start: range.start, end: range.end });

/** A change of text at a place: what stands there is replaced. An empty place inserts. */
export interface Edit {
  readonly at: Place;
  readonly text: string;
}
