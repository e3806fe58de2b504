/** A scale, a vessel or other gear that the workshop file does not declare. */
import type { Named } from '../engine/entry';
import type { Workshop } from '../engine/workshop';
import { type GearSection, gearIn } from '../journal/names';
import { nearest } from '../text/nearest';
import { writeName } from './names';
import { type Match, rule } from './rule';

const NOUNS: Readonly<Record<GearSection, string>> = {
  scales: 'scale',
  containers: 'vessel',
  crucibles: 'crucible',
  moulds: 'mould',
  cupels: 'cupel',
  furnaces: 'furnace',
};

export const notInWorkshop = rule({
  code: 'not-in-workshop',
  severity: 'warning',
  atOnce: false,
  ofPlans: true,
  title: 'gear that the workshop file does not declare',
  why: 'A scale that is not declared has no division, a vessel no tare, a crucible no volume; of initials nobody knows later whose they were. Where a section of `workshop.yaml` lists what the shop owns, a name outside it is likely a slip.',
  wrong: '2026-05-04\nreceive A 20.00 g on bensh',
  right: '2026-05-04\nreceive A 20.00 g on bench',
  workshop: 'scales:\n  bench: 0.01 g\n',
  entry: function* ({ entry }, { workshop }) {
    for (const named of [entry.said.hand, entry.said.witness]) {
      if (!named || workshop.hands.size === 0 || workshop.hands.has(named.name)) continue;
      yield unknown(named, 'hand', nearest(named.name, workshop.hands.keys()));
    }
    for (const { section, named } of gearIn(entry)) {
      const declared: Workshop[GearSection] = workshop[section];
      if (declared.size === 0 || declared.has(named.name)) continue;
      yield unknown(named, NOUNS[section], nearest(named.name, declared.keys()));
    }
  },
});

const unknown = (named: Named, noun: string, near: string | undefined): Match => ({
  place: named.place,
  says: `The workshop file has no ${noun} ${named.name}.${near ? ` Is ${near} meant?` : ''}`,
  fixes: near
    ? [{ title: `Write ${near}`, edits: [{ at: named.place, text: writeName(near) }], safe: false, preferred: true }]
    : [],
});
