/** Where more came out of a heat than went in: what its crucible held last, as a place to look. */
import type { Entry } from '../engine/entry';
import { heldBefore } from '../engine/longview/crucible-before';
import { listWords, stepWords } from '../reports/words';
import { longViewOf } from '../workspace/long-view';
import type { Workspace } from '../workspace/workspace';
import type { Finding } from './rule';

/** Findings that more came out than went in. */
export const GAINS: ReadonlySet<string> = new Set(['more-out-than-in', 'metal-gained', 'fine-gained']);

/**
 * The findings of a heat, a gain with the heat before it in its crucible. That one stands on any page, so it is asked for with the histories, after a pause;
 * the sentence stays as it is, and nothing on the screen moves.
 */
export const withCrucible = (
  workspace: Workspace,
  { parts }: { readonly parts: readonly Entry[] },
  findings: readonly Finding[],
): readonly Finding[] => {
  const [heat] = parts;
  if (!heat || !workspace.whole || !findings.some(({ code }) => GAINS.has(code))) return findings;
  const held = heldBefore(heat, longViewOf(workspace).crucibles());
  if (!held) return findings;
  const { crucible, lots, heat: before } = held;
  const place = before.gear.find(({ word }) => word === 'crucible')!.item.place;
  const says = `${crucible} last held ${listWords(lots)} (${stepWords(before)}): look for its metal`;
  return findings.map((one) =>
    GAINS.has(one.code) ? { ...one, related: [...(one.related ?? []), { place, says }] } : one,
  );
};
