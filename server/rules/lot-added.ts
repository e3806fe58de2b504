/** A lot taken as if it came from the shelf. */
import { findMaterial } from '../engine/shelf';
import { rule } from './rule';

export const lotAdded = rule({
  code: 'lot-added',
  severity: 'warning',
  atOnce: false,
  ofPlans: true,
  title: 'a lot added as if from the shelf',
  why: '`add` takes from the shelf, where nothing is counted. A lot goes `in`, so that its metal is followed.',
  wrong:
    '2026-05-04\nreceive A 20.00 g\nreceive B 31.50 g\ncast C1\n  in A 20.00 g\n  add B 31.50 g\n  out X 51.47 g bar',
  right:
    '2026-05-04\nreceive A 20.00 g\nreceive B 31.50 g\ncast C1\n  in A 20.00 g\n  in B 31.50 g\n  out X 51.47 g bar',
  entry: function* ({ entry }, { workshop, book }) {
    for (const { word, material, place } of entry.flows) {
      if (word !== 'add' || !material || findMaterial(workshop, material.name) || workshop.recipes.has(material.name))
        continue;
      const born = book.lot(material.name)?.births[0];
      if (!born) continue;
      const verb = { ...place, end: place.start + 'add'.length };
      yield {
        place: material.place,
        says: `${material.name} is a lot: lots go \`in\`.`,
        related: [{ place: born.place, says: `${material.name} is made here` }],
        fixes: [
          { title: `Write in ${material.name}`, edits: [{ at: verb, text: 'in' }], safe: false, preferred: true },
        ],
      };
    }
  },
});
