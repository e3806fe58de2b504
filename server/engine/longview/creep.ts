/** What creeps: the running sum of a kind of step's losses, or of a scale's differences, each held against all before it. */
import { sequentialScores, signedSequentialScores } from '../statistics/sequential';

export interface CusumSettings {
  /** What is passed over at each figure, in standard deviations of one: half of the shift that is to be found. */
  readonly slack: number;
  /** The sum that is told, in the same. */
  readonly limit: number;
}

/**
 * A shift of one standard deviation is to be found. With 6 an honest series is told of once in some 2 600 figures on each side that is looked at
 * (Page's integral equation, `cusumRunLength`); a journal holds many series.
 */
export const DEFAULT_CUSUM: CusumSettings = { slack: 0.5, limit: 6 };

/** One shift that was told, by indexes of the figures. */
export interface Shift {
  /** The first figure of those that are held against each other. */
  readonly from: number;
  /** The figure at which the shift began, as the sum has it. */
  readonly began: number;
  /** The figure whose sum passed the limit. */
  readonly told: number;
  readonly side: 'up' | 'down';
}

/**
 * Every rise of a series. Once told, what has risen is the new level: the next rise is looked for among the figures from there on alone, so
 * one lasting change is told once.
 */
export const risesIn = (values: readonly number[], settings: CusumSettings): readonly Shift[] =>
  shiftsIn(
    values,
    (some) => [{ side: 'up', scores: sequentialScores(some) }],
    settings,
    ({ began }) => began,
  );

/**
 * Where differences that should lie about nought begin to lie on one side of it; none at all says nothing of a side. After one is told, the next
 * figures begin anew.
 */
export const leaningsIn = (differences: readonly number[], settings: CusumSettings): readonly Shift[] => {
  const places = differences.flatMap((difference, at) => (difference === 0 ? [] : [at]));
  const shifts = shiftsIn(
    places.map((at) => differences[at]!),
    (some) => {
      const scores = signedSequentialScores(some);
      return [
        { side: 'up', scores },
        { side: 'down', scores: scores.map((score) => -score) },
      ];
    },
    settings,
    ({ told }) => told + 1,
  );
  return shifts.map(({ from, began, told, side }) => ({
    from: places[from]!,
    began: places[began]!,
    told: places[told]!,
    side,
  }));
};

interface Side {
  readonly side: Shift['side'];
  readonly scores: readonly number[];
}

const shiftsIn = (
  values: readonly number[],
  sidesOf: (values: readonly number[]) => readonly Side[],
  settings: CusumSettings,
  next: (shift: Shift) => number,
): readonly Shift[] => {
  const shifts: Shift[] = [];
  let from = 0;
  while (from < values.length) {
    const found = sidesOf(values.slice(from)).flatMap((one) => firstOf(one, from, settings) ?? []);
    const [first] = found.sort((a, b) => a.told - b.told);
    if (!first) return shifts;
    shifts.push(first);
    from = next(first);
  }
  return shifts;
};

const firstOf = ({ side, scores }: Side, from: number, { slack, limit }: CusumSettings): Shift | undefined => {
  let [sum, began] = [0, 0];
  for (let at = 0; at < scores.length; at++) {
    if (sum === 0) began = at;
    sum = Math.max(0, sum + scores[at]! - slack);
    if (sum > limit) return { from, began: from + began, told: from + at, side };
  }
  return undefined;
};
