/** The sum behind a balance of mass: what went in, what came out, and what that leaves. */
import { isUsedCupel } from '../engine/accounts/destiny';
import type { FlowWeight, Step } from '../engine/book';
import { type Measured, negate } from '../quantity/measured';
import type { SumRow } from './sum';
import { GROUND_WORDS } from './wording';
import { flowWords } from './words';

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
