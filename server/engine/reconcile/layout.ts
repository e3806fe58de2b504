/** Which balances and variables stand in the equations, and where: all that does not depend on the figures. */
import { type Lists, listsOf } from './order';
import { type Pattern, patternOf } from './pattern';
import type { Plan } from './plan';
import { type Structure, structureOf } from './structure';
import { type Kind, kindOf, type Shape, type System, shapeOf } from './system';

export interface Layout {
  readonly shape: Shape;
  readonly structure: Structure;
  readonly kinds: readonly Kind[];
  /** 1: the variable stands in the equations itself. */
  readonly kept: Uint8Array;
  /** 1: a reading that stands in them by what it adds to its balances. */
  readonly absorbed: Uint8Array;
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

export const layOut = (system: System): Layout => {
  const shape = shapeOf(system);
  const structure = structureOf(system);
  const kinds = system.readings.map(kindOf);
  const places = placesOf(shape, structure, kinds);
  const { pairStart, first, second } = pairsOf(shape, places);
  const { pattern, slotOf } = patternOf(places.size, first, second);
  return { shape, structure, kinds, ...places, pattern, pairStart, slotOf, plan: undefined };
};

/** Which unknowns a variable binds: itself to its balances where it is kept, else its balances to each other. */
const pairsOf = (
  { start, balance }: Shape,
  { placeOfBalance, placeOfVariable, kept, absorbed }: Places,
): { pairStart: Int32Array; first: Int32Array; second: Int32Array } => {
  const pairStart = new Int32Array(kept.length + 1);
  for (let variable = 0; variable < kept.length; variable++) {
    let count = 0;
    for (let at = start[variable]!; at < start[variable + 1]!; at++) if (placeOfBalance[balance[at]!]! >= 0) count++;
    const pairs = kept[variable] ? count : absorbed[variable] ? (count * (count + 1)) / 2 : 0;
    pairStart[variable + 1] = pairStart[variable]! + pairs;
  }
  const first = new Int32Array(pairStart[kept.length]!);
  const second = new Int32Array(first.length);
  let next = 0;
  for (let variable = 0; variable < kept.length; variable++) {
    if (!kept[variable] && !absorbed[variable]) continue;
    const to = start[variable + 1]!;
    for (let i = start[variable]!; i < to; i++) {
      const p = placeOfBalance[balance[i]!]!;
      if (p < 0) continue;
      if (kept[variable]) {
        first[next] = p;
        second[next++] = placeOfVariable[variable]!;
        continue;
      }
      for (let j = i; j < to; j++) {
        const q = placeOfBalance[balance[j]!]!;
        if (q < 0) continue;
        first[next] = p;
        second[next++] = q;
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

/** Each unmeasured value that is solved for goes together with the balance that tells it. */
const placesOf = ({ start }: Shape, { pivots, dependent }: Structure, kinds: readonly Kind[]): Places => {
  const placeOfBalance = new Int32Array(dependent.length).fill(-1);
  const placeOfVariable = new Int32Array(kinds.length).fill(-1);
  const [kept, absorbed] = [new Uint8Array(kinds.length), new Uint8Array(kinds.length)];
  const groups: number[][] = [];
  let size = 0;
  for (const { balance, variable } of pivots) {
    placeOfBalance[balance] = size++;
    placeOfVariable[variable] = size++;
    kept[variable] = 1;
    groups.push([size - 2, size - 1]);
  }
  for (let balance = 0; balance < dependent.length; balance++) {
    if (dependent[balance] || placeOfBalance[balance]! >= 0) continue;
    groups.push([size]);
    placeOfBalance[balance] = size++;
  }
  for (let variable = 0; variable < kinds.length; variable++) {
    if (kinds[variable] === 'unmeasured') continue;
    if (start[variable + 1]! - start[variable]! <= MOST_ABSORBED) {
      // An exact reading adds nothing, but makes room for the entries of the inverse that its test asks for.
      absorbed[variable] = 1;
    } else if (kinds[variable] === 'measured') {
      groups.push([size]);
      placeOfVariable[variable] = size++;
      kept[variable] = 1;
    }
  }
  return { kept, absorbed, placeOfBalance, placeOfVariable, groups: listsOf(groups), size };
};
