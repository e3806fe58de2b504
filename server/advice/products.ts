/** What a planned melt or cast is to give: button or bar, and slag, as ranges. */
import type { Estimate } from '../engine/bench/result';
import { isMetalKind } from '../engine/charge';
import type { Flow } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import type { Topic, Working, Writing } from './advice';
import { isShortOfTarget } from './alloy';
import { isAllWeighed } from './job';
import { isChloride, smeltOf } from './smelt';
import { isFit } from './sulphur';
import { estimateWords, guessWords, rangeWords, termWords } from './words';
import { BALANCE_ASSUMED, CLINGING, slagLeft, type Yield, yieldOf } from './yield';

const TOPIC = 'products';

/** Below this share of what goes in a slag is not worth a line. */
const LEAST_SLAG = 0.005;

export const products: Topic = (job) => {
  const { planned, entry, step } = job;
  const kind = METAL_OF.get(entry.verb);
  // What is still to be added toward its target is part of the bar.
  if (!planned || kind === undefined || !isAllWeighed(job) || isShortOfTarget(job)) return [];
  const smelt = smeltOf(job);
  if (!smelt || !isFit(job, smelt)) return [];
  const pour = yieldOf(job);
  const slag = slagLeft(job, pour);
  const outs = entry.flows.filter(({ word, none }) => word === 'out' && !none);
  const whole = [...step!.inputs, ...step!.added].reduce((so, { mass }) => so + mass!.value.toNumber(), 0);
  const writes = [
    ...(pour.metal && pour.metal.best > 0 ? writing(outs, kind, pour.metal, isMetal) : []),
    ...(pour.matte ? writing(outs, 'matte', pour.matte, ({ kind }) => kind === 'matte') : []),
    ...(slag.best > LEAST_SLAG * whole ? writing(outs, 'slag', slag, isSlag) : []),
  ];
  if (writes.length === 0) return [];
  const balance = { whole, gas: { ...step!.gasRange, best: step!.gas.value.toNumber() } };
  const own = outs.find(isMetal)?.kind;
  return [
    {
      topic: TOPIC,
      at: entry.head,
      rank: 'result',
      working: () => workingOf(own ?? kind, pour, slag, balance, isChloride(smelt)),
      writes,
    },
  ];
};

const METAL_OF: ReadonlyMap<string, string> = new Map([
  ['melt', 'button'],
  ['cast', 'bar'],
]);

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
  const range = `${own[0]?.kind ?? kind} ${isNarrow(grams) ? `${showDigits(decimal(grams.best), 3)} g` : rangeWords(grams, 'g')}`;
  const amount = isNarrow(grams) ? `~${showDigits(decimal(grams.best), 3)} g` : guessWords(grams, 'g');
  if (own.length === 0) return [{ part: 'out', line: `out ${amount} ${kind}`, range }];
  const [flow] = own;
  const isOpen = own.length === 1 && (flow!.amount === undefined || flow!.amount.absent === 'unknown');
  return isOpen ? [{ flow: flow!, amount, range }] : [];
};

/** Metal in pieces comes out as it went in but for a little: three digits of it mean something. */
const isNarrow = ({ low, best, high }: Estimate): boolean => best >= 1 && high - low < 0.01 * best;

const metalWords = (grams: Estimate): string => (isNarrow(grams) ? narrowWords(grams) : estimateWords(grams, 'g'));

const narrowWords = ({ low, high }: Estimate): string => {
  const [least, most] = [low, high].map((size) => showDigits(decimal(size), 3));
  return least === most ? `${most} g` : `${least}..${most} g`;
};

/** What is left of the charge, within what its oxides allow; without metal that is known by its oxides alone. */
const slagSum = ({ metal, matte }: Yield): string => (metal && !matte ? 'goes in − metal − gas = ' : '');

/** What of it is no oxide. */
const keptWords = (kept: Estimate): string =>
  kept.high > 0.5 ? `, and ${estimateWords(kept, 'g')} CO2 that its soda keeps` : '';

const workingOf = (
  kind: string,
  pour: Yield,
  slag: Estimate,
  { whole, gas }: { readonly whole: number; readonly gas: Estimate },
  isSalt: boolean,
): Working => {
  const { metal, lead, matte, slag: made, kept } = pour;
  const button = metal ? `a ${kind} of ${metalWords(metal)}` : `a ${kind} whose weight is not known`;
  return {
    says: `To be expected: ${button}${matte ? `, ${rangeWords(matte, 'g')} of matte` : ''}, and ${slag.best > 0 ? `${rangeWords(slag, 'g')} of` : 'no'} slag.`,
    rows: [
      `goes in           ${termWords(whole, 'g')}`,
      ...(gas.high > 0 ? [`gas               ${estimateWords(gas, 'g')}`] : []),
      ...(metal ? [`${kind.padEnd(18)}${metalWords(metal)}`] : []),
      ...(lead ? [`  of it lead      ${estimateWords(lead, 'g')}`] : []),
      ...(matte ? [`matte             ${estimateWords(matte, 'g')}`] : []),
      ...(slag.best > 0
        ? [
            `slag              ${slagSum(pour)}${estimateWords(slag, 'g')}`,
            ...(isSalt ? [] : [`slag by oxides    ${estimateWords(made.grams, 'g')}${keptWords(kept)}`]),
          ]
        : []),
    ],
    assumed: [...(metal ? [BALANCE_ASSUMED, CLINGING] : []), ...pour.assumed],
    ...(metal
      ? {}
      : {
          todo: `Say what it holds where it came in, such as \`expect Au 5 %\`, and the ${kind} is told too. To cupel it begin with about its own weight of lead; a gram of lead makes 1.08 g of litharge, and a cupel takes up about its own weight of that, if it is bone ash.`,
        }),
  };
};
