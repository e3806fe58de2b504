/** Gold or silver from the shelf in a customer's metal, and nothing said of it. */
import { findMaterial } from '../engine/shelf';
import type { Workshop } from '../engine/workshop';
import { showMass } from '../quantity/show';
import { listWords } from '../reports/words';
import { type MetalSubject, rule } from './rule';
import { isFirstPart } from './steps';

export const shelfMetalGiven = rule({
  code: 'shelf-metal-given',
  severity: 'hint',
  atOnce: false,
  title: "gold or silver from the shelf in a customer's metal",
  why: 'What is added to metal of a customer counts as theirs from then on: silver for parting, too, which is to come back out of the solution. Where it is to come back, say `lent`; where it was given or sold to them, accept this with that as the reason.',
  wrong:
    '2026-05-04\nreceive A 30.00 g, owner high-fell\nassay A by fire\n  Au 60.0 %, Ag 10.0 %\nmelt Q1\n  in A 30.00 g\n  add silver 50.00 g\n  out B 79.98 g shot',
  right:
    '2026-05-04\nreceive A 30.00 g, owner high-fell\nassay A by fire\n  Au 60.0 %, Ag 10.0 %\nmelt Q1\n  in A 30.00 g\n  add silver 50.00 g, lent\n  out B 79.98 g shot',
  metal: function* (subject) {
    const { account, look } = subject;
    const given = isFirstPart(account) ? (account.step?.added ?? []) : [];
    for (const { flow, mass } of given) {
      const metal = flow.material && preciousOf(flow.material.name, look.workshop);
      if (!metal || !mass?.value.greaterThan(0) || flow.said.lent || flow.said.owner) continue;
      const owners = ownersOf(subject);
      if (owners.length === 0) return;
      const at = { ...flow.place, start: flow.place.end };
      yield {
        place: flow.material!.place,
        says: `${showMass(mass)} of ${flow.material!.name} goes into metal of ${listWords(owners)}, and counts as theirs. Write \`lent\` behind it if it is to come back.`,
        fixes: [{ title: 'Say that it is lent', edits: [{ at, text: ', lent' }], safe: false }],
      };
    }
  },
});

/** Fine gold or silver: what is bought by the gram, and no alloy that may have been the customer's wish. */
const preciousOf = (name: string, workshop: Workshop): boolean =>
  findMaterial(workshop, name)?.composition.some(({ what, fraction }) => PRECIOUS.has(what) && fraction >= FINE) ??
  false;

const PRECIOUS: ReadonlySet<string> = new Set(['Au', 'Ag']);
const FINE = 0.99;

/** Whose all of the charge is; nobody where some of it is the shop's own. */
const ownersOf = ({ account, entry, accounts }: MetalSubject): readonly string[] => {
  const owners = new Set<string>();
  for (const { flow } of account.step?.inputs ?? []) {
    if (flow.said.lent || flow.none) continue;
    const segment = accounts.metals.lineage.segment(flow);
    const names = segment ? accounts.namesOf(accounts.ownedAt(segment, entry)) : [];
    if (names.length === 0 || names.includes(accounts.shop)) return [];
    for (const name of names) owners.add(name);
  }
  return [...owners];
};
