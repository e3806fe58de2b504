/** What a lot that came in may hold: grams of fine metal by our guess, their word, or the mark on it. */
import { declared } from '../../engine/accounts/declared';
import { isAboveWhole } from '../../engine/whole';
import { showDigits, showMass } from '../../quantity/show';
import { LONGEST_LABEL } from '../../reports/figures';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import { type FineWeight, fineWeights } from '../fine';
import { type Draft, RANK, type Subject } from './draft';

const GROUNDS: ReadonlyMap<string, string> = new Map([
  ['expect', 'Our own guess; no assay yet.'],
  ['claim', 'What the other side says; not our assay.'],
  ['stamp', 'The mark on the metal: a claim, and no assay. Solder and repairs are below it.'],
]);

export const receiveDrafts = ({ account, entry, workspace }: Subject): Draft[] => {
  if (entry.verb !== 'receive' || !entry.name) return [];
  const story = account.lots.get(entry.name.name);
  const weight = story?.events.find((event) => event.kind === 'received' && event.entry === entry)?.weight;
  if (!weight?.mass) return [];
  const { mass } = weight;
  return entry.others.flatMap(({ word, place, reading }) => {
    const ground = GROUNDS.get(word);
    // A claim that cannot be true is told as such; grams of it would say that it could.
    const fine = ground && reading && !isAboveWhole(reading) ? fineWeights(reading, weight) : [];
    if (fine.length === 0) return [];
    const state = weight.states.includes('wet') ? ' wet, as it was weighed' : '';
    const lines = fine.map(({ symbol, grams }) => `${symbol} ${grams}`).join(', ');
    const label = labelOf(fine);
    // What is reckoned of the lot elsewhere is under its mark.
    const share = word === 'stamp' ? declared(entry, workspace.workshop).get(fine[0]!.symbol)?.share : undefined;
    const reckoned = share && `~${showDigits(mass.value.times(share.value), 3)} g`;
    const tooltip = (): string =>
      paragraphs(
        escapeMarkdown(`Of ${showMass(mass)}${state}: ${lines}.`),
        ground,
        reckoned && escapeMarkdown(`Reckoned as ${reckoned}: scrap melts about two points under its stamp.`),
      );
    const whole = reckoned && fine.length === 1 ? `${label}, reckoned as ${reckoned}` : label;
    return [{ at: place, label: whole, short: label, tooltip, family: 'receive', rank: RANK.extra }];
  });
};

/** As many metals as fit, gold first. */
const labelOf = (fine: readonly FineWeight[]): string => {
  const inOrder = [...fine].sort((a, b) => Number(b.symbol === 'Au') - Number(a.symbol === 'Au'));
  let label = '';
  for (const { symbol, grams } of inOrder) {
    const more = label === '' ? `${grams} ${symbol}` : `${label}, ${grams} ${symbol}`;
    if (more.length > LONGEST_LABEL) break;
    label = more;
  }
  return label;
};
