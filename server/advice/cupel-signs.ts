/** What bead and cupel tell when they are cold: what to look for in a plan, and where a done cupellation is asked about. */
import { SIGNS } from '../engine/bench/cupel';
import { assume } from '../engine/bench/result';
import type { Topic, Working } from './advice';

export const cupelSigns: Topic = ({ entry, inFull }) => {
  if (entry.verb !== 'cupel' || !inFull) return [];
  const sources = [...new Set(SIGNS.map(({ source }) => source))];
  const working = (): Working => ({
    says: 'What bead and cupel tell when they are cold:',
    rows: SIGNS.map(({ sign, means }) => `${sign}: ${means}`),
    assumed: sources.map((source) => assume('signs of a bead and its cupel', source)),
  });
  return [{ topic: 'signs', at: entry.head, rank: 'extra', working }];
};
