/** A time of an entry: how long after the one above it, and what was read from its text. */

import type { Advice } from '../../advice/advice';
import { jobOf } from '../../advice/job';
import { answersOf, placeInPlan, planOf } from '../../advice/plans';
import { adviceOn } from '../../advice/topics';
import { workingMarkdown } from '../../advice/words';
import { lengthWords, minutesBetween } from '../../engine/clock';
import type { Clock, Entry } from '../../engine/entry';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import { EVENTS } from '../../vocabulary/words';
import type { Workspace } from '../../workspace/workspace';
import { temperatureWords } from './amount';

export const clockMarkdown = (workspace: Workspace, entry: Entry, offset: number): string | undefined => {
  const index = entry.clocks.findIndex(({ place }) => place.start <= offset && offset <= place.end);
  const clock = entry.clocks[index];
  if (!clock) return undefined;
  const before = entry.clocks.slice(0, index).findLast(({ time }) => time !== undefined);
  const when = [clock.time, clock.date && `on ${clock.date}`].filter(Boolean).join(' ');
  const since = before && sinceWords(before, clock);
  return paragraphs(`**${when}**${since ? ` · ${since}` : ''}`, readWords(clock), ...adviceAt(workspace, entry, clock));
};

/** What the bench says of the line: melting range, superheat, time. */
const adviceAt = (workspace: Workspace, entry: Entry, { place }: Clock): readonly string[] => {
  const isOn = (at: Advice['at']): boolean => at.start >= place.start && at.end <= place.end;
  const plan = planOf(workspace, entry);
  const job = plan ? undefined : jobOf(workspace, entry, true);
  const found = plan
    ? answersOf(plan).filter(({ at }) => isOn(placeInPlan(plan, at)))
    : job
      ? adviceOn(job).filter(({ at }) => isOn(at))
      : [];
  return found.map(({ working }) => `---\n\n${workingMarkdown(working())}`);
};

const sinceWords = (before: Clock, clock: Clock): string | undefined => {
  const minutes = minutesBetween(before, clock);
  return minutes === undefined ? undefined : `${lengthWords(minutes)} after ${before.time}`;
};

const readWords = ({ events, temperature, mould }: Clock): string | undefined => {
  const meanings = events.map((event) => `\`${event}\`: ${EVENTS.find(({ word }) => word === event)?.meaning ?? ''}`);
  const heat =
    temperature &&
    `${escapeMarkdown(`${temperature.text} ${temperature.unit!.symbol}`)} is ${temperatureWords(temperature)}.`;
  const into = mould && `Into ${escapeMarkdown(mould.name)}.`;
  const said = [...meanings, heat, into].filter((part) => part !== undefined);
  return said.length > 0 ? said.join(' ') : undefined;
};
