/** What a planned melt is to give: button and slag, as ranges. */
import type { Estimate } from '../engine/bench/result';
import { isMetalKind } from '../engine/charge';
import type { Flow } from '../engine/entry';
import type { Topic, Working, Writing } from './advice';
import { isAllWeighed } from './job';
import { smeltOf } from './smelt';
import { isFit } from './sulphur';
import { estimateWords, guessWords, rangeWords } from './words';
import { BALANCE_ASSUMED, CLINGING, slagLeft, type Yield, yieldOf } from './yield';

const TOPIC = 'products';

/** Below this share of what goes in a slag is not worth a line. */
const LEAST_SLAG = 0.005;

export const products: Topic = (job) => {
  const { planned, entry, step } = job;
  if (!planned || entry.verb !== 'melt' || !isAllWeighed(job)) return [];
  const smelt = smeltOf(job);
  if (!smelt || !isFit(job, smelt)) return [];
  const pour = yieldOf(job);
  const slag = slagLeft(job, pour);
  const outs = entry.flows.filter(({ word, none }) => word === 'out' && !none);
  const whole = [...step!.inputs, ...step!.added].reduce((so, { mass }) => so + mass!.value.toNumber(), 0);
  const writes = [
    ...(pour.metal && pour.metal.best > 0 ? writing(outs, 'button', pour.metal, isMetal) : []),
    ...(pour.matte ? writing(outs, 'matte', pour.matte, ({ kind }) => kind === 'matte') : []),
    ...(slag.best > LEAST_SLAG * whole ? writing(outs, 'slag', slag, isSlag) : []),
  ];
  if (writes.length === 0) return [];
  return [{ topic: TOPIC, at: entry.head, rank: 'result', working: () => workingOf(pour, slag), writes }];
};

const isMetal = ({ kind }: Flow): boolean => isMetalKind(kind);
const isSlag = ({ kind }: Flow): boolean => kind === 'slag';

/** The line that has none of it, or a new line; a second line of a kind is the melter's own business. */
const writing = (
  outs: readonly Flow[],
  kind: string,
  grams: Estimate,
  isOfKind: (flow: Flow) => boolean,
): readonly Writing[] => {
  const own = outs.filter(isOfKind);
  const range = `${kind} ${rangeWords(grams, 'g')}`;
  const amount = guessWords(grams, 'g');
  if (own.length === 0) return [{ part: 'out', line: `out ${amount} ${kind}`, range }];
  const [flow] = own;
  const isOpen = own.length === 1 && (flow!.amount === undefined || flow!.amount.absent === 'unknown');
  return isOpen ? [{ flow: flow!, amount, range }] : [];
};

const workingOf = (pour: Yield, slag: Estimate): Working => {
  const { metal, lead, matte, slag: made } = pour;
  const button = metal ? `a button of ${rangeWords(metal, 'g')}` : 'a button whose weight is not known';
  return {
    says: `To be expected: ${button}${matte ? `, ${rangeWords(matte, 'g')} of matte` : ''}, and ${rangeWords(slag, 'g')} of slag.`,
    rows: [
      ...(metal ? [`button            ${estimateWords(metal, 'g')}`] : []),
      ...(lead ? [`  of it lead      ${estimateWords(lead, 'g')}`] : []),
      ...(matte ? [`matte             ${estimateWords(matte, 'g')}`] : []),
      `slag              ${estimateWords(slag, 'g')}`,
      `slag by oxides    ${estimateWords(made.grams, 'g')}`,
    ],
    assumed: [...(metal ? [BALANCE_ASSUMED, CLINGING] : []), ...pour.assumed],
    ...(metal
      ? {}
      : { todo: 'Say what it holds where it came in, such as `expect Au 5 %`, and the button is told too.' }),
  };
};
