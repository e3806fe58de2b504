/**
 * What the bench works out beside a line: the answer, the way to it, what is wrong with what was written, what a plan is still short of. One
 * value serves the hint, the hover, the finding and the plan.
 */
import type { Assumption } from '../engine/bench/result';
import type { Flow } from '../engine/entry';
import type { Place } from '../text/place';
import type { Job } from './job';

/** The way to an answer, so that it can be followed by hand. */
export interface Working {
  /** The answer in whole sentences. */
  readonly says: string;
  /** The formula, its figures and what comes of it: one step to a line. */
  readonly rows?: readonly string[];
  /** What it rests on, each with its source. */
  readonly assumed: readonly Assumption[];
  /** What to do about it, as a sentence. */
  readonly todo?: string;
}

/** Something amiss with what was written: the rule of this code tells it. */
export interface Wrong {
  readonly code: string;
  readonly place: Place;
  /** What is wrong and what to do, in short sentences. */
  readonly says: string;
  readonly related?: readonly { readonly place: Place; readonly says: string }[];
}

/** Where a new line goes: vessels under the first line, what is added under what goes in, products at the end. */
export type Part = 'gear' | 'add' | 'out';

/** What a plan leaves out, as the journal would say it. */
export type Writing =
  /** A line that is not there: `add lead ~52 g`. */
  | { readonly part: Part; readonly line: string; readonly range: string }
  /** The amount of a line that has none, or `?`: `~52 g`. */
  | { readonly flow: Flow; readonly amount: string; readonly range: string };

/** Another way than the one that is written in: a line that the plan is to have, whose amount is then worked out. */
export interface Choice {
  /** What it does, as a command: `Collect with silver`. */
  readonly title: string;
  readonly line: string;
}

export interface Advice {
  /** The question that it answers: of one topic the last answer stands, once the plan is whole. */
  readonly topic: string;
  /** On the line that it speaks of. */
  readonly at: Place;
  /** At most 40 characters, the answer first; none where the answer is only what to write, or what is wrong. */
  readonly label?: string;
  /** The same in fewer words, for a line that says something else too. */
  readonly short?: string;
  /** What is amiss comes before what follows from the figures, and that before what is good to know. */
  readonly rank: 'doubt' | 'result' | 'extra';
  readonly working: () => Working;
  readonly wrong?: readonly Wrong[];
  /** In plans only. */
  readonly writes?: readonly Writing[];
  /** In plans only: what the melter may choose instead. */
  readonly choices?: readonly Choice[];
}

/** One question of the bench: asked of every entry that counts, and of every plan as if it were done. */
export type Topic = (job: Job) => readonly Advice[];
