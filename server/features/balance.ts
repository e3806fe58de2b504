/** The balance of a step as Markdown: the verdict, the sum line by line, what it rests on, what to do. The same in hints and hovers. */
import { isUsedCupel } from '../engine/accounts/destiny';
import type { FlowWeight, Step } from '../engine/book';
import { type Measured, negate } from '../quantity/measured';
import { escapeMarkdown, fenced, paragraphs } from '../reports/markdown';
import { type SumRow, sumLines } from '../reports/sum';
import { adviceWords, GROUND_WORDS, groundWords, verdictWords } from '../reports/wording';
import { flowWords } from '../reports/words';
import type { Workspace } from '../workspace/workspace';

export const balanceMarkdown = (step: Step, { workshop }: Workspace): string => {
  const rows = balanceRows(step);
  return paragraphs(
    escapeMarkdown(verdictWords(step, workshop)),
    rows.length > 0 ? fenced(sumLines(rows)) : undefined,
    step.unaccounted && step.usual ? escapeMarkdown(usualWords(step)) : undefined,
    escapeMarkdown(groundWords(step)),
    escapeMarkdown(adviceWords(step) ?? ''),
  );
};

const usualWords = ({ usual }: Step): string => {
  const from = usual?.from === 'workshop' ? '' : 'Usual: ';
  return `${from}${usual?.why ?? ''}.`;
};

/** What went in and what came out, and what that leaves. */
export const balanceRows = (step: Step): readonly SumRow[] => {
  const { inputs, added, outputs, lost, gas, slag, absorbed, unaccounted, solved } = step;
  const isBack = outputs.some(({ flow }) => isUsedCupel(flow.kind, step.entry.verb));
  const left: SumRow[] = unaccounted ? [{ sign: '=', word: 'unaccounted for', mass: unaccounted }] : [];
  return [
    ...inputs.map((flow) => rowOf('+', flow)),
    ...added.map((flow) => rowOf('+', flow)),
    ...outputs.map((flow) => rowOf('-', flow, solved)),
    ...lost.map((flow) => rowOf('-', flow, solved)),
    ...(gas.value.isZero() ? [] : [{ sign: '-', word: 'gas', mass: gas, ground: 'reckoned' } as const]),
    ...(slag ? [{ sign: '-', word: 'slag', mass: slag, ground: 'not weighed, from the flux' } as const] : []),
    ...(absorbed ? [vesselRow(absorbed, isBack)] : []),
    ...left,
  ];
};

/** A cupel that is written as a product came in with its own weight. */
const vesselRow = (absorbed: Measured, isBack: boolean): SumRow =>
  isBack && absorbed.value.isNegative()
    ? { sign: '+', word: 'the cupel before', mass: negate(absorbed) }
    : { sign: '-', word: 'gain of the vessel', mass: absorbed };

const rowOf = (sign: SumRow['sign'], weight: FlowWeight, solved?: Step['solved']): SumRow => {
  const { flow, mass, ground } = weight;
  const isSolved = solved?.flow === flow;
  const word = `${flow.word} ${flowWords(flow)}`;
  return {
    sign,
    word: flow.word === flowWords(flow) ? flow.word : word,
    mass: isSolved ? solved.mass : mass,
    ground: isSolved ? GROUND_WORDS.solved : GROUND_WORDS[ground],
  };
};
