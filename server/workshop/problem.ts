/** What is wrong in a workshop file: codes, and the list that findings are put on. */

import type { Anchor } from '../text/place';
import { type Edit, type Place, placeIn } from '../text/place';
import type { Span } from '../text/span';
import { severityOf, type WorkshopCode } from './pages';

export interface WorkshopFix {
  readonly title: string;
  readonly edits: readonly Edit[];
  readonly safe: boolean;
  readonly preferred?: boolean;
}

export interface WorkshopProblem {
  readonly code: WorkshopCode;
  readonly severity: 'error' | 'warning';
  readonly place: Place;
  readonly says: string;
  readonly related?: readonly { readonly place: Place; readonly says: string }[];
  readonly fixes?: readonly WorkshopFix[];
}

/** What a finding says beside its code and place. */
export interface Said {
  readonly says: string;
  /** What should stand there instead. */
  readonly write?: string | undefined;
  readonly related?: { readonly at: Span; readonly says: string } | undefined;
}

/** More findings than anybody mends in one go; a hostile file makes tens of thousands. */
const MOST_PROBLEMS = 100;

/** Where findings of one file are put. */
export class Report {
  readonly anchor: Anchor;
  readonly problems: WorkshopProblem[] = [];

  constructor(anchor: Anchor) {
    this.anchor = anchor;
  }

  /** `said` is asked only while there is room, so that a long list costs little. */
  add(code: WorkshopCode, at: Span, said: () => Said): void {
    if (this.problems.length >= MOST_PROBLEMS) return;
    const { says, write, related } = said();
    const place = placeIn(this.anchor, at);
    this.problems.push({
      code,
      severity: severityOf(code),
      place,
      says,
      ...(related ? { related: [{ place: placeIn(this.anchor, related.at), says: related.says }] } : {}),
      ...(write === undefined
        ? {}
        : {
            fixes: [{ title: `Write \`${write}\``, edits: [{ at: place, text: write }], safe: false, preferred: true }],
          }),
    });
  }
}
