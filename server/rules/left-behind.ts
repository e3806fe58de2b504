/**
 * Metal that stayed in a crucible, a cupel or slag, and came out with the next heat: proposed where a gain in one fits a loss in the other. Two
 * slips of one size in neighbouring heats are seldom; which it was, the hand must see.
 */

import type { Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import { metalGain, metalMissing } from '../engine/metal';
import type { Measured } from '../quantity/measured';
import { uncertainty } from '../quantity/measured';
import { showMass } from '../quantity/show';
import { sizeOf } from '../reports/figures';
import { asMeasured } from '../reports/fine';
import { metalWords, stepWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import { GAINS } from './crucible-before';
import type { Finding } from './rule';

const LOSSES: ReadonlySet<string> = new Set(['loss-above-usual', 'metal-missing', 'fine-missing']);

/** Of a loss beyond the usual so much at least came out again: a smaller gain is another matter. A choice, no source. */
const LEAST = 0.5;

/** The findings of an entry, those of a gain or a loss with the heat beside that explains them. */
export const withLeftBehind = (workspace: Workspace, entry: Entry, found: readonly Finding[]): readonly Finding[] => {
  if (!workspace.whole || !found.some(({ code }) => GAINS.has(code) || LOSSES.has(code))) return found;
  const pair = pairOf(
    workspace,
    entry,
    found.some(({ code }) => GAINS.has(code)),
  );
  if (!pair) return found;
  return found.map((one) =>
    (GAINS.has(one.code) || LOSSES.has(one.code)) && !one.fixes?.length
      ? { ...one, says: `${one.says} ${pair.says}`, related: [...(one.related ?? []), pair.related] }
      : one,
  );
};

interface Pair {
  readonly says: string;
  readonly related: { readonly place: Finding['place']; readonly says: string };
}

const pairOf = (workspace: Workspace, entry: Entry, gained: boolean): Pair | undefined => {
  const here = workspace.book.step(entry);
  if (!here) return undefined;
  for (const { entry: other, where } of gained ? before(workspace, here) : next(workspace, entry)) {
    const there = workspace.book.step(other);
    const fit = there && (gained ? fitting(workspace, there, here) : fitting(workspace, here, there));
    if (!there || !fit) continue;
    const [whose, mine] = [ownerOf(workspace, there), ownerOf(workspace, here)];
    const of = whose === mine ? '' : `, ${whose === 'the shop' ? "the shop's" : `of ${whose}`}`;
    const place = other.name?.place ?? other.head;
    const says = gained
      ? `It may be of ${fit.lost} missing in ${stepWords(other)}${of}, before it ${where}: did metal stay there? See, and book it back.`
      : `${stepWords(other)}${of}, next ${where}, has ${fit.gained} too much: did metal stay there? See, and book it back.`;
    return {
      says: `${says[0]!.toUpperCase()}${says.slice(1)}`,
      related: { place, says: `${stepWords(other)} stands here` },
    };
  }
  return undefined;
};

interface Beside {
  readonly entry: Entry;
  /** `in crucible C1`. */
  readonly where: string;
}

/** Heats in the same vessel, in order. */
const heatsIn = ({ pages, book }: Workspace, word: string, name: string): readonly Entry[] =>
  [...pages.values()]
    .flatMap(({ entries }) =>
      entries.filter((one) => !one.prefix && one.gear.some(({ word: is, item }) => is === word && item.name === name)),
    )
    .filter((one) => book.step(one))
    .sort(inOrder(pages));

const beside = (workspace: Workspace, of: Entry, by: number): readonly Beside[] =>
  of.gear.flatMap(({ word, item }) => {
    if (word !== 'crucible' && word !== 'cupel-body') return [];
    const heats = heatsIn(workspace, word, item.name);
    const entry = heats[heats.findIndex(({ anchor }) => anchor === of.anchor) + by];
    return entry && entry.anchor !== of.anchor
      ? [{ entry, where: `in ${word === 'crucible' ? word : 'cupel'} ${item.name}` }]
      : [];
  });

/** What it was heated in before, and where its slag came from. */
const before = (workspace: Workspace, { entry, inputs }: Step): readonly Beside[] => [
  ...beside(workspace, entry, -1),
  ...inputs.flatMap(({ flow: { lot } }) => {
    const [made] = (lot && workspace.book.lot(lot.name)?.events) || [];
    return lot && made?.flow?.kind === 'slag' ? [{ entry: made.entry, where: `in slag ${lot.name}` }] : [];
  }),
];

const next = (workspace: Workspace, entry: Entry): readonly Beside[] => [
  ...beside(workspace, entry, 1),
  ...entry.flows.flatMap(({ word, lot, kind }) => {
    if (word !== 'out' || kind !== 'slag' || !lot) return [];
    const events = workspace.book.lot(lot.name)?.events ?? [];
    const uses = events.filter((event) => event.kind === 'used' || event.kind === 'part-used');
    return uses.map((use) => ({ entry: use.entry, where: `with slag ${lot.name}` }));
  }),
];

interface Fit {
  readonly lost: string;
  readonly gained: string;
}

interface Loss {
  readonly lost: Measured;
  /** Grams of it that such a step usually loses. */
  readonly usual: number;
}

const lossIn = (step: Step, { workshop, book }: Workspace): Loss | undefined => {
  const { verdict, unaccounted, usual } = step;
  if (verdict === 'high' && unaccounted) return { lost: unaccounted, usual: usual?.high ?? 0 };
  const found = metalMissing(step, workshop, book.make);
  return found && { lost: found.missing, usual: found.usual };
};

/** Mass against mass, else metal against the same metal. */
const fitting = (workspace: Workspace, from: Step, to: Step): Fit | undefined => {
  const { workshop, book } = workspace;
  const { coverage } = workshop.limits;
  const loss = lossIn(from, workspace);
  const gained = to.verdict === 'gain' ? to.unaccounted : metalGain(to, workshop, book.make)?.gained;
  if (loss && gained) return fits(loss, gained, coverage) ? words(loss.lost, gained, '') : undefined;
  const accounts = accountsOf(workspace);
  for (const { metal, verdict, unaccounted } of accounts.balances(from)) {
    const gain = accounts.balances(to).find((one) => one.metal === metal);
    if (verdict !== 'missing' || gain?.verdict !== 'gained') continue;
    const [lost, more] = [asMeasured(unaccounted), asMeasured(gain.unaccounted)];
    if (fits({ lost, usual: 0 }, more, coverage)) return words(lost, more, ` of ${metalWords(metal)}`);
  }
  return undefined;
};

const fits = ({ lost, usual }: Loss, gained: Measured, coverage: number): boolean => {
  const [loss, gain] = [lost, gained].map(({ value }) => value.abs().toNumber()) as [number, number];
  return gain >= LEAST * (loss - usual) && gain <= loss + coverage * Math.hypot(uncertainty(lost), uncertainty(gained));
};

const words = (lost: Measured, gained: Measured, of: string): Fit => ({
  lost: `the ${showMass(sizeOf(lost))}${of}`,
  gained: `${showMass(sizeOf(gained))}${of}`,
});

const ownerOf = (workspace: Workspace, { entry, inputs }: Step): string => {
  const accounts = accountsOf(workspace);
  for (const { flow } of inputs) {
    const segment = accounts.metals.lineage.segment(flow);
    const [owner] = segment ? accounts.namesOf(accounts.ownedAt(segment, entry)) : [];
    if (owner) return owner;
  }
  return accounts.shop;
};
