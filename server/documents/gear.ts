/** What crucibles, cupels, furnaces and moulds were used for, heat by heat. */
import { memo } from '../engine/accounts/memo';
import type { Step } from '../engine/book';
import type { Gear } from '../engine/entry';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { stepsWithin } from './entries';

export interface GearUse {
  readonly step: Step;
  readonly gear: Gear;
}

type Word = Gear['word'];

const kept = memo<Workspace, ReadonlyMap<string, readonly GearUse[]>>();

/** By word and name, in order; each step once, however often it names the thing. */
export const gearUses = (workspace: Workspace): ReadonlyMap<string, readonly GearUse[]> => {
  const known = kept.get(workspace);
  if (known) return known;
  const made = new Map<string, GearUse[]>();
  for (const step of stepsWithin(workspace, {})) {
    const named = new Map(step.entry.gear.map((gear) => [keyOf(gear.word, gear.item.name), gear]));
    for (const [key, gear] of named) {
      const uses = made.get(key);
      if (uses) uses.push({ step, gear });
      else made.set(key, [{ step, gear }]);
    }
  }
  kept.set(workspace, made);
  return made;
};

const keyOf = (word: Word, name: string): string => `${word} ${name}`;

export const usesOf = (workspace: Workspace, word: Word, name: string): readonly GearUse[] =>
  gearUses(workspace).get(keyOf(word, name)) ?? [];

/** The names of one kind of gear, in order of first use. */
export const gearNames = (workspace: Workspace, word: Word): readonly string[] =>
  [...gearUses(workspace).keys()].flatMap((key) => (key.startsWith(`${word} `) ? [key.slice(word.length + 1)] : []));

/** Whose metal went into a step. */
export const ownersIn = (workspace: Workspace, { inputs }: Step): readonly string[] => {
  const accounts = accountsOf(workspace);
  const names = inputs.flatMap(({ flow }) => {
    const segment = accounts.metals.lineage.segment(flow);
    const owners = segment ? accounts.namesOf(accounts.owners(segment)) : [];
    return owners.length > 0 ? owners : [accounts.shop];
  });
  return [...new Set(names)].sort();
};

/** `S57 and S59`. */
export const feedNames = ({ inputs }: Step): readonly string[] => [
  ...new Set(inputs.flatMap(({ flow }) => flow.lot?.name ?? [])),
];
