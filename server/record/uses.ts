/** Which things of the workshop file an entry rests on: those that it names in a place that is theirs. A name in a remark, or of a lot, is none. */
import { mouldOf } from '../journal/clock';
import type { AmountNode, Section, Value } from '../syntax/tree';
import type { SlotTakes } from '../vocabulary/slots';
import type { SectionName } from '../workshop/keys';

/** `scales bench`: a thing by its section and name. */
export const thingKey = (section: SectionName, name: string): string => `${section} ${name}`;

/** Sections of the workshop file whose things a place in a sentence may name. */
const SECTIONS: Readonly<Partial<Record<SlotTakes, readonly SectionName[]>>> = {
  scale: ['scales'],
  container: ['containers'],
  crucible: ['crucibles'],
  'cupel-body': ['cupels'],
  mould: ['moulds'],
  furnace: ['furnaces'],
  material: ['materials', 'recipes'],
  party: ['parties'],
  person: ['hands'],
};

const NONE: ReadonlySet<string> = new Set();
const known = new WeakMap<Section, ReadonlySet<string>>();

/** Each by its key; corrected values with what stood there before. */
export const usesIn = (section: Section): ReadonlySet<string> => {
  const kept = known.get(section);
  if (kept) return kept;
  const found = section.kind === 'entry' ? findUses(section) : NONE;
  const made = found.size > 0 ? found : NONE;
  known.set(section, made);
  return made;
};

const findUses = (section: Section): ReadonlySet<string> => {
  const found = new Set<string>();
  const note = (takes: SlotTakes, name: string): void => {
    for (const of of SECTIONS[takes] ?? []) found.add(thingKey(of, name));
  };
  const ofAmount = ({ parts, unit }: AmountNode): void => {
    for (const word of [unit, ...parts.map((part) => part.unit)]) if (word) found.add(thingKey('measures', word.text));
  };
  const ofValue = (value: Value, takes: readonly SlotTakes[]): void => {
    if (value.shape === 'amount') ofAmount(value);
    if (value.shape === 'word') for (const one of takes) note(one, value.word.text);
    if (value.was) ofValue(value.was, takes);
  };
  for (const { pieces, clock } of section.lines) {
    for (const { row, filled, values, readings, scale } of pieces) {
      for (const value of values) ofValue(value, row?.slots[filled.indexOf(value)]?.takes ?? []);
      for (const { amount } of readings) ofValue(amount, []);
      if (scale) note('scale', scale.text);
    }
    const mould = clock && mouldOf(section, clock);
    if (mould) note('mould', mould.name);
  }
  return found;
};
