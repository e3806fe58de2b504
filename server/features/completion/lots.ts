/** Lots to take: what is on hand, the nearest in the record first. */

import { fromMeasured } from '../../engine/accounts/inexact';
import { segmentsOf } from '../../engine/accounts/segments';
import { fineOf, isGuessed } from '../../engine/accounts/stock';
import type { Entry } from '../../engine/entry';
import { showMass } from '../../quantity/show';
import { asMeasured, isShown } from '../../reports/fine';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';

export interface LotChoice {
  readonly name: string;
  /** `58.16 g button, Au 45.1 g`. */
  readonly detail: string;
  /** Of the last entry that spoke of it. */
  readonly date: string;
  readonly onHand: boolean;
}

/** Past so many only those on hand are offered. */
const MOST_GONE = 500;

export const lotChoices = (workspace: Workspace, within: Entry | undefined): readonly LotChoice[] => {
  const choices: LotChoice[] = [];
  for (const name of workspace.book.lotNames()) {
    const story = workspace.book.lot(name);
    // Of a lot that only this entry speaks of nothing is known but what is being typed.
    if (!story || story.births.length === 0 || story.events.every(({ entry }) => entry === within)) continue;
    const before = story.events.filter(({ entry }) => entry !== within);
    const date = before.at(-1)?.entry.date ?? '';
    const left = before.at(-1)?.after ?? story.left;
    const isGone = left?.value.isZero() ?? false;
    const kind = story.make?.kind ?? story.make?.material ?? '';
    const weight = isGone ? 'used up' : left ? showMass(left) : '';
    choices.push({ name, detail: [`${weight} ${kind}`.trim()].join(''), date, onHand: !isGone });
  }
  const nearest = choices.sort(
    (a, b) => Number(b.onHand) - Number(a.onHand) || byNearness(a.date, b.date, within?.date),
  );
  return nearest.filter(({ onHand }, index) => onHand || index < MOST_GONE);
};

/** To a day: what was spoken of up to it, the last first; then what only comes later, the first first. */
const byNearness = (a: string, b: string, day: string | undefined): number => {
  const [isLater, isOtherLater] = [a, b].map((date) => day !== undefined && date > day);
  if (isLater !== isOtherLater) return isLater ? 1 : -1;
  return (a < b ? 1 : a > b ? -1 : 0) * (isLater ? -1 : 1);
};

/** The fine metal of a lot, for the one that is looked at. */
export const fineDetail = (workspace: Workspace, lot: string): string | undefined => {
  const story = workspace.book.lot(lot);
  const segment = story && segmentsOf(story).all.at(-1);
  if (!story?.left || !segment) return undefined;
  const fine = fineOf(accountsOf(workspace).metals.best(segment), fromMeasured(story.left)).filter(
    (one) => one.grams && isShown(one) && (one.metal === 'Au' || one.metal === 'Ag'),
  );
  const said = fine.map((one) => `${one.metal} ${showMass(asMeasured(one.grams!, isGuessed(one)))}`);
  return said.length > 0 ? said.join(', ') : undefined;
};
