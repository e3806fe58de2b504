/** Which balances and variables stand in the equations, and where: all that does not depend on the figures. */
import type { Lists } from './order';
import { type Pattern, patternOf } from './pattern';
import type { Plan } from './plan';
import type { Expanded } from './shared';
import { type Structure, structureOf } from './structure';
import { columnsOf, type Shape, shapeOf } from './system';

export interface Layout {
  readonly lean: boolean;
  /** Without the balances that have no place. */
  readonly shape: Shape;
  readonly structure: Structure;
  /** 1: the variable stands in the equations itself. */
  readonly kept: Uint8Array;
  /** 1: a reading that stands in them by what it adds to its balances. */
  readonly absorbed: Uint8Array;
  /** The variables that stand in the equations one way or the other. */
  readonly taking: Int32Array;
  readonly placeOfBalance: Int32Array;
  readonly placeOfVariable: Int32Array;
  readonly groups: Lists;
  readonly pattern: Pattern;
  /** Slots of what a variable adds to: from `pairStart`, in the order of its balances, or of their pairs. */
  readonly pairStart: Int32Array;
  readonly slotOf: Int32Array;
  /** How the equations are taken apart, once that has been worked out. */
  plan: Plan | undefined;
}

/** In more balances than this a measured variable is kept. */
const MOST_ABSORBED = 6;

/**
 * `lean`: without the unmeasured that stand alone in a balance, and so on; their balances test nothing, and what is left is much smaller. It
 * tells all values, and all that is to be told of readings, but not the uncertainty of what nobody read. `known`: the structure, where that has
 * been worked out.
 */
export const layOut = (system: Expanded, lean = false, known?: Structure): Layout => {
  const whole = shapeOf(system.readings.length, system.rows);
  const structure = known ?? structureOf(system, columnsOf(whole, system.rows));
  const { kept, absorbed, placeOfBalance, placeOfVariable, groups, size } = placesOf(
    whole,
    structure,
    system,
    lean ? structure.alone : 0,
  );
  const shape = shapeOf(system.readings.length, system.rows, placeOfBalance);
  const taking = takingPart(shape, kept, absorbed);
  const { pairStart, first, second } = pairsOf(shape, taking, kept, placeOfBalance, placeOfVariable);
  const { pattern, slotOf } = patternOf(size, first, second);
  return {
    lean,
    shape,
    structure,
    kept,
    absorbed,
    taking,
    placeOfBalance,
    placeOfVariable,
    groups,
    pattern,
    pairStart,
    slotOf,
    plan: undefined,
  };
};

const takingPart = ({ start }: Shape, kept: Uint8Array, absorbed: Uint8Array): Int32Array => {
  const taking = new Int32Array(kept.length);
  let count = 0;
  for (let variable = 0; variable < kept.length; variable++) {
    const stands = start[variable]! < start[variable + 1]!;
    if (kept[variable] || (absorbed[variable] && stands)) taking[count++] = variable;
  }
  return taking.subarray(0, count);
};

/** Which unknowns a variable binds: itself to its balances where it is kept, else its balances to each other. */
const pairsOf = (
  { start, balance }: Shape,
  taking: Int32Array,
  kept: Uint8Array,
  placeOfBalance: Int32Array,
  placeOfVariable: Int32Array,
): { pairStart: Int32Array; first: Int32Array; second: Int32Array } => {
  const pairStart = new Int32Array(kept.length + 1);
  for (let each = 0; each < taking.length; each++) {
    const variable = taking[each]!;
    const count = start[variable + 1]! - start[variable]!;
    pairStart[variable + 1] = kept[variable] ? count : (count * (count + 1)) / 2;
  }
  for (let variable = 0; variable < kept.length; variable++) pairStart[variable + 1]! += pairStart[variable]!;
  const first = new Int32Array(pairStart[kept.length]!);
  const second = new Int32Array(first.length);
  let next = 0;
  for (let each = 0; each < taking.length; each++) {
    const variable = taking[each]!;
    const to = start[variable + 1]!;
    for (let i = start[variable]!; i < to; i++) {
      const p = placeOfBalance[balance[i]!]!;
      if (kept[variable]) {
        first[next] = p;
        second[next++] = placeOfVariable[variable]!;
      }
      for (let j = i; j < to && !kept[variable]; j++) {
        first[next] = p;
        second[next++] = placeOfBalance[balance[j]!]!;
      }
    }
  }
  return { pairStart, first, second };
};

interface Places {
  readonly kept: Uint8Array;
  readonly absorbed: Uint8Array;
  readonly placeOfBalance: Int32Array;
  readonly placeOfVariable: Int32Array;
  readonly groups: Lists;
  readonly size: number;
}

/** Each unmeasured value that is solved for goes together with the balance that tells it; those of the first `aside` pivots have no place. */
const placesOf = ({ start }: Shape, { pivots, dependent }: Structure, { figures }: Expanded, aside: number): Places => {
  const { value, variance } = figures;
  const placeOfBalance = new Int32Array(dependent.length).fill(-1);
  const placeOfVariable = new Int32Array(value.length).fill(-1);
  const [kept, absorbed] = [new Uint8Array(value.length), new Uint8Array(value.length)];
  const left = Uint8Array.from(dependent, (follows) => 1 - follows);
  let size = 0;
  for (let at = 0; at < pivots.variable.length; at++) {
    const balance = pivots.balance[at]!;
    const variable = pivots.variable[at]!;
    left[balance] = 0;
    if (at < aside) continue;
    placeOfBalance[balance] = size++;
    placeOfVariable[variable] = size++;
    kept[variable] = 1;
  }
  for (let balance = 0; balance < dependent.length; balance++) {
    if (left[balance]) placeOfBalance[balance] = size++;
  }
  for (let variable = 0; variable < value.length; variable++) {
    if (Number.isNaN(value[variable])) continue;
    if (start[variable + 1]! - start[variable]! <= MOST_ABSORBED) {
      // An exact reading adds nothing, but makes room for the entries of the inverse that its test asks for.
      absorbed[variable] = 1;
    } else if (variance[variable]! > 0) {
      placeOfVariable[variable] = size++;
      kept[variable] = 1;
    }
  }
  const pairs = pivots.variable.length - aside;
  return {
    kept,
    absorbed,
    placeOfBalance,
    placeOfVariable,
    groups: {
      start: Int32Array.from({ length: size - pairs + 1 }, (_, group) => (group < pairs ? 2 * group : group + pairs)),
      list: Int32Array.from({ length: size }, (_, place) => place),
    },
    size,
  };
};
