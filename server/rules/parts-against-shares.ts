/** A pooled lot divided among its owners otherwise than they have shares in it. */

import { inexact, minus, plus, scaled, spread } from '../engine/accounts/inexact';
import type { Passing } from '../engine/accounts/passage';
import { gramsWords } from './fine-words';
import { rule } from './rule';
import { isFirstPart } from './steps';

const page = (own: string, other: string): string => `2026-05-04
receive A 30.00 g, owner high-fell
receive B 10.00 g, owner beck-side
blend J1, pooled by weight
  in A
  in B
  out C 40.00 g
split Y1
  in C
  out D1 ${own} g, owner high-fell
  out D2 ${other} g, owner beck-side`;

/** A share by assay is as sure as the assays of what was brought in, as a part of it; by weight as the weighings. Common practice, no source. */
const UNSURE = { assay: 0.005, weight: 0.001 };

export const partsAgainstShares = rule({
  code: 'parts-against-shares',
  severity: 'warning',
  atOnce: false,
  title: 'a pooled lot divided otherwise than it is shared',
  why: 'A pool is shared by what each owner brought in, by weight or by assay. A part of it that goes to one owner is held against that share: more of the lot than theirs is somebody else’s, and where all of it is given out whoever gets less has lost it. Weigh and divide anew, or make up the difference and accept this with that reason.',
  wrong: page('20.00', '20.00'),
  right: page('30.00', '10.00'),
  source: 'beyond twice the standard uncertainty (GUM) of the weighings, and of the shares: common practice, no source',
  metal: function* ({ account, entry, accounts, look }) {
    const { step } = account;
    if (step?.inputs.length !== 1 || !isFirstPart(account)) return;
    const { lineage } = accounts.metals;
    const lot = step.inputs[0]!.flow.lot?.name;
    const segment = lineage.segment(step.inputs[0]!.flow);
    const shares = segment && accounts.shares(segment);
    const parts = lineage.passage(step).outputs.filter(({ group }) => group === 'metal');
    const whole = totalOf(parts);
    if (!shares || !lot || !whole || whole.value <= 0) return;
    const given = new Map<string, Passing[]>();
    for (const part of parts) {
      const [owner] = part.flow.said.owner ? accounts.namesOf(accounts.owners(lineage.segment(part.flow)!)) : [];
      if (owner !== undefined) given.set(owner, [...(given.get(owner) ?? []), part]);
    }
    const all = [...given.values()].flat().length === parts.length;
    for (const [owner, own] of given) {
      const share = shares.ofLot.get(owner);
      if (share === undefined) continue;
      const theirs = scaled(whole, share);
      const gets = totalOf(own)!;
      const off = minus(gets, theirs);
      const u = Math.hypot(spread(off), UNSURE[shares.by] * theirs.value);
      const reach = look.workshop.limits.coverage * u;
      if (off.value <= reach && (!all || off.value >= -reach)) continue;
      yield {
        place: own[0]!.flow.lot?.place ?? entry.head,
        says: `${owner} gets ${cut(gets.value, u)} of ${lot}, and ${cut(theirs.value, u)} of it are theirs. Divide it anew, or make up the difference and accept this with that reason.`,
      };
      return;
    }
  },
});

/** Both to the place to which they can be held against each other. */
const cut = (value: number, u: number): string => gramsWords(inexact(value, u, { label: 'the shares' }));

const totalOf = (parts: readonly Passing[]) =>
  parts.reduce<Passing['amount']>(
    (sum, { amount }, at) => (at === 0 ? amount : sum && amount && plus(sum, amount)),
    undefined,
  );
