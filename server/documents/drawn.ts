/** Pictures of the record, as parts of a document. */
import type { Entry } from '../engine/entry';
import { type PictureQuestion, pictureOf } from '../pictures/pictures';
import { verb } from '../vocabulary/verbs';
import type { Workspace } from '../workspace/workspace';
import type { Block } from './model';

/** Undefined where there is nothing of what is asked for. */
export const drawn = (workspace: Workspace, question: PictureQuestion): Block | undefined => {
  const made = pictureOf(workspace, question);
  return typeof made === 'string' ? undefined : { form: 'picture', svg: made.svg.trim(), says: made.says };
};

/** The time line of a heat; undefined of a step of which fewer than two times are written. */
export const heatDrawn = (workspace: Workspace, parts: readonly Entry[]): Block | undefined => {
  const [first] = parts;
  const times = parts.flatMap(({ clocks }) => clocks.filter(({ time }) => time !== undefined));
  if (!first?.name || !verb(first.verb)?.hot || times.length < 2) return undefined;
  return drawn(workspace, { kind: 'heat', step: first.name.name });
};
