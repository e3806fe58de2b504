/** A material that neither the workshop nor the built-in table knows. */
import type { Entry, Named } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import { nearest } from '../text/nearest';
import { MATERIALS } from '../vocabulary/materials';
import { writeName } from './names';
import { type Look, rule } from './rule';

export const unknownMaterial = rule({
  code: 'unknown-material',
  severity: 'warning',
  atOnce: false,
  ofPlans: true,
  title: 'a material that is not known',
  why: 'Of a material that is not known nobody can say what gas it gives off or what slag it makes. Declare it in `workshop.yaml` under `materials`, or a mix under `recipes`.',
  wrong:
    '2026-05-04\nreceive A 20.00 g\nmelt M1\n  in A\n  add boraks-glass 5 g\n  out B 19.96 g button\n  out S 4.9 g slag',
  right:
    '2026-05-04\nreceive A 20.00 g\nmelt M1\n  in A\n  add borax-glass 5 g\n  out B 19.96 g button\n  out S 4.9 g slag',
  entry: function* (account, look) {
    for (const name of materialsIn(account.entry)) {
      if (isKnown(name.name, look) || look.book.lot(name.name)?.births.length) continue;
      const near =
        knownNames(look).find((known) => known.startsWith(`${name.name}-`)) ?? nearest(name.name, knownNames(look));
      yield {
        place: name.place,
        says: near
          ? `${name.name} is no material that is known. Is ${near} meant?`
          : `${name.name} is no material that is known.`,
        fixes: near
          ? [
              {
                title: `Write ${near}`,
                edits: [{ at: name.place, text: writeName(near) }],
                safe: false,
                preferred: true,
              },
            ]
          : [],
      };
    }
  },
});

/** What was added from the shelf, and what a lot is said to be. */
const materialsIn = ({ flows, others }: Entry): readonly Named[] => [
  ...flows.flatMap(({ word, material }) => (word === 'add' && material ? [material] : [])),
  ...others.flatMap(({ word, names }) => (word === 'material' ? names : [])),
];

const isKnown = (name: string, { workshop }: Look): boolean =>
  findMaterial(workshop, name) !== undefined || workshop.recipes.has(name);

const knownNames = ({ workshop }: Look): readonly string[] => [
  ...workshop.materials.keys(),
  ...workshop.recipes.keys(),
  ...MATERIALS.map(({ name }) => name),
];
