/** A scale, a vessel or other gear that the workshop file does not declare. */
import type { Amount, Entry, Named, Said } from '../engine/entry';
import type { Workshop } from '../engine/workshop';
import { nearest } from '../text/nearest';
import { writeName } from './names';
import { rule } from './rule';

type Section = 'scales' | 'containers' | 'crucibles' | 'moulds' | 'cupels' | 'furnaces';

const NOUNS: Readonly<Record<Section, string>> = {
  scales: 'scale',
  containers: 'vessel',
  crucibles: 'crucible',
  moulds: 'mould',
  cupels: 'cupel',
  furnaces: 'furnace',
};

const GEAR_SECTIONS = { crucible: 'crucibles', 'cupel-body': 'cupels', mould: 'moulds', furnace: 'furnaces' } as const;

export const notInWorkshop = rule({
  code: 'not-in-workshop',
  severity: 'warning',
  atOnce: false,
  title: 'gear that the workshop file does not declare',
  why: 'A scale that is not declared has no division, a vessel no tare, a crucible no volume. Where a section of `workshop.yaml` lists what the shop owns, a name outside it is likely a slip.',
  wrong: '2026-05-04\nreceive A 20.00 g on bensh',
  right: '2026-05-04\nreceive A 20.00 g on bench',
  workshop: 'scales:\n  bench: 0.01 g\n',
  entry: function* ({ entry }, { workshop }) {
    for (const { section, named } of gearIn(entry)) {
      const declared: Workshop[Section] = workshop[section];
      if (declared.size === 0 || declared.has(named.name)) continue;
      const near = nearest(named.name, declared.keys());
      yield {
        place: named.place,
        says: `The workshop file has no ${NOUNS[section]} ${named.name}.${near ? ` Is ${near} meant?` : ''}`,
        fixes: near
          ? [
              {
                title: `Write ${near}`,
                edits: [{ at: named.place, text: writeName(near) }],
                safe: false,
                preferred: true,
              },
            ]
          : [],
      };
    }
  },
});

/** Every scale, vessel and piece of gear named in an entry, each place once. */
const gearIn = (entry: Entry): readonly { section: Section; named: Named }[] => {
  const found = new Map<string, { section: Section; named: Named }>();
  const note = (section: Section, named: Named | undefined): void => {
    if (named) found.set(`${section} ${named.place.start}`, { section, named });
  };
  const ofAmount = (amount: Amount | undefined): void => note('scales', amount?.scale);
  const ofSaid = (said: Said): void => {
    note('scales', said.scale);
    if (said.tare && 'name' in said.tare) note('containers', said.tare);
    else ofAmount(said.tare as Amount | undefined);
    ofAmount(said.before);
    ofAmount(said.after);
  };
  if (entry.verb === 'check-scale') note('scales', entry.name);
  ofAmount(entry.amount);
  ofSaid(entry.said);
  for (const { amount, said } of entry.amounts) {
    ofAmount(amount);
    ofSaid(said);
  }
  for (const { amount, said } of entry.flows) {
    ofAmount(amount);
    ofSaid(said);
  }
  for (const { word, item, said } of entry.gear) {
    note(GEAR_SECTIONS[word], item);
    ofSaid(said);
  }
  for (const clock of entry.clocks) note('moulds', clock.mould);
  return [...found.values()];
};
