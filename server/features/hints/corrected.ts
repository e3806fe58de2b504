/** What a correction says, at the line that it changes: the page keeps what stood there. */
import { correctionWords, newWords } from '../../reports/corrections';
import { fitting } from '../../reports/figures';
import { escapeMarkdown } from '../../reports/markdown';
import { correctionsIn } from '../../workspace/parts';
import { type Draft, familyOf, RANK, type Subject } from './draft';

export const correctedDrafts = ({ entry }: Subject): Draft[] =>
  correctionsIn(entry).map((one) => {
    const now = newWords(one);
    return {
      at: one.at,
      label: fitting(`corrected: ${now}`, 'corrected'),
      short: 'corrected',
      tooltip: () => escapeMarkdown(correctionWords(one)),
      family: familyOf(entry.verb),
      rank: RANK.doubt,
    };
  });
