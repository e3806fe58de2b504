/** Before the heat: how full the crucible is, and what gas the fluxes give off. */

import { roomRows } from '../../advice/crucible';
import { foamingOf, foamingWords, gasGround, gasPartWords, pourCelsius } from '../../advice/gas';
import { assumptionWords } from '../../advice/words';
import type { FlowWeight, Step } from '../../engine/book';
import { addedParts, feedParts, gasOf, type Part } from '../../engine/charge';
import { crucibleFill, type Fill, loosenessIn } from '../../engine/crucible';
import type { GasGivenOff, GasPart } from '../../engine/gas';
import { balanceRow } from '../../engine/usual';
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { fitting } from '../../reports/figures';
import { brokenLines, escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { flowWords, listWords } from '../../reports/words';
import { lineAt } from '../../text/lines';
import { type Draft, RANK, type Subject } from './draft';

export const chargeDrafts = (subject: Subject): Draft[] => {
  const { step } = subject.account;
  if (!step || balanceRow(step.entry.verb)?.kind !== 'melt') return [];
  return [...fillDrafts(subject, step), ...gasDrafts(subject, step)];
};

const fillDrafts = (subject: Subject, step: Step): Draft[] => {
  const { workspace, entry } = subject;
  const gear = entry.gear.find(({ word }) => word === 'crucible');
  const fill = gear && crucibleFill(step, workspace.workshop, subject.workspace.book.make);
  if (!gear || !fill?.share || fill.highMillilitres === 0) return [];
  const high = fill.most.share;
  // Of a charge that is mostly of unknown density a least says nothing, unless it is much already.
  if (fill.unknown.length > 0 && fill.share.low < high / 2) return [];
  const charged = (): readonly Part[] => [
    ...feedParts(step.inputs, workspace.workshop, workspace.book.make),
    ...addedParts(step.added, workspace.workshop),
  ];
  const most = percent(high);
  const rank = fill.verdict === 'over' || fill.verdict === 'may be over' ? RANK.doubt : RANK.extra;
  const tooltip = (): string => {
    const foaming = foamingOf(step, workspace);
    return paragraphs(
      fillTooltip(fill, most, roomRows(charged(), loosenessIn(step, workspace.book.make))),
      foaming && escapeMarkdown(foamingWords(foaming)),
    );
  };
  const short = `${fill.unknown.length > 0 ? `≥${percent(fill.share.low)}` : shareRange(fill.share)} full`;
  return [{ at: gear.item.place, label: fillLabel(fill, most), short, tooltip, family: 'melt', rank }];
};

const percent = (share: number): string => `${Math.round(share * 100)} %`;

const shareRange = ({ low, high }: { low: number; high: number }): string => {
  const [least, most] = [Math.round(low * 100), Math.round(high * 100)];
  return least === most ? `${least} %` : `${least}..${most} %`;
};

const fillLabel = ({ share, verdict, unknown }: Fill, most: string): string => {
  const range = shareRange(share!);
  if (verdict === 'over') return fitting(`${range} full cold, over ${most}`, `over ${most} full cold`);
  if (verdict === 'may be over') return fitting(`${range} full cold, ${most} at most`, `${range} full cold`);
  return unknown.length > 0 ? `at least ${percent(share!.low)} full cold` : `${range} full cold`;
};

const fillTooltip = (
  { crucible, lowMillilitres, highMillilitres, unknown, verdict, most: { froths } }: Fill,
  most: string,
  rows: readonly string[],
): string => {
  const low = showDigits(decimal(lowMillilitres), 2);
  const high = showDigits(decimal(highMillilitres), 2);
  const room = low === high ? `${low} mL` : `${low}..${high} mL`;
  const missing =
    unknown.length > 0 ? `Not counted, for their density or weight is not known: ${listWords(unknown)}.` : '';
  const why = froths
    ? `Niter that meets fuel, or much of it, lifts a charge all at once: half is the most (${most}; common practice).`
    : `Gas makes a fuller one boil over: two thirds to three quarters is the most (here ${most}; common practice).`;
  const todo =
    verdict === 'over' || verdict === 'may be over' ? 'Take a larger crucible, or charge it in parts as it sinks.' : '';
  return paragraphs(
    escapeMarkdown(
      `The charge takes ${room}, packed to loose, of ${crucible.volumeMillilitres} mL in ${crucible.name}. ${why}`,
    ),
    rows.length > 0 ? fenced(rows) : undefined,
    escapeMarkdown(missing),
    todo,
  );
};

const gasDrafts = (subject: Subject, step: Step): Draft[] => {
  const { workspace, entry } = subject;
  const own = step.added.filter(({ flow }) => entry.flows.includes(flow));
  if (own.length === 0) return [];
  const added = addedParts(step.added, workspace.workshop);
  const feed = feedParts(step.inputs, workspace.workshop, subject.workspace.book.make);
  const gas = gasOf(added, feed);
  return onLines(own).flatMap((weights) =>
    gasDraft(weights, gas, [...feed, ...added], addedParts(weights, workspace.workshop), pourCelsius(step)),
  );
};

/** What stands on one line gives off its gas together. */
const onLines = (weights: readonly FlowWeight[]): readonly FlowWeight[][] => {
  const lines = new Map<number, FlowWeight[]>();
  for (const weight of weights) {
    const { anchor, start } = weight.flow.place;
    const text = (anchor as { readonly text?: string }).text ?? '';
    const line = lineAt(text, start);
    const same = lines.get(line);
    if (same) same.push(weight);
    else lines.set(line, [weight]);
  }
  return [...lines.values()];
};

/** Below this share of what was added the gas is not worth a word. */
const LEAST_SHARE = 0.005;
/** Bounds farther apart than this share of the best value are shown instead of it. */
const WIDE = 0.2;

const gasDraft = (
  weights: readonly FlowWeight[],
  gas: GasGivenOff,
  all: readonly Part[],
  parts: readonly Part[],
  celsius: number,
): Draft[] => {
  const mine = parts.flatMap(({ item }) => shareOfGas(gas, all, item.material.name, item.massGrams));
  const grams = total(mine, 'grams');
  const [low, high] = [total(mine, 'low'), total(mine, 'high')];
  const mass = weights.reduce((sum, weight) => sum + (weight.mass?.value.toNumber() ?? 0), 0);
  if (!(high > LEAST_SHARE * mass)) return [];
  const isWide = high - low > WIDE * grams;
  const [least, best, most] = [low, grams, high].map((size) => showDigits(decimal(size), 2));
  const figure = isWide ? `${least}..${most} g` : `${best} g`;
  const guessed = weights.some((weight) => weight.mass?.guessed);
  const mark = guessed ? '~' : '';
  const tooltip = (): string => gasTooltip(weights, mine, { least: least!, best: best!, most: most! }, celsius);
  return [
    {
      at: weights[0]!.flow.place,
      label: fitting(`gives off ${mark}${figure} of gas`),
      tooltip,
      family: 'melt',
      rank: RANK.extra,
    },
  ];
};

/** What one material of the charge gives off, for the part of it that one line added: each gram gives the same. */
const shareOfGas = (gas: GasGivenOff, all: readonly Part[], name: string, grams: number): GasPart[] => {
  const charged = all.reduce((sum, { item }) => sum + (item.material.name === name ? item.massGrams : 0), 0);
  if (!(charged > 0)) return [];
  const share = grams / charged;
  const parts = gas.parts.filter(({ material }) => material === name);
  return parts.map((part) => ({
    ...part,
    grams: part.grams * share,
    low: part.low * share,
    high: part.high * share,
    of: part.of * share,
    whole: part.whole * share,
  }));
};

const total = (parts: readonly GasPart[], of: 'grams' | 'low' | 'high'): number =>
  parts.reduce((sum, part) => sum + part[of], 0);

const gasTooltip = (
  weights: readonly FlowWeight[],
  parts: readonly GasPart[],
  { least, best, most }: { least: string; best: string; most: string },
  celsius: number,
): string => {
  const lines = parts.filter(({ high }) => high > 0).map((part) => gasPartWords(part, celsius));
  const guess = weights.some(({ mass }) => mass?.guessed) ? ' A weight is guessed.' : '';
  const names = listWords(weights.map(({ flow }) => flowWords(flow)));
  const gives = weights.length > 1 ? 'give off' : 'gives off';
  return paragraphs(
    escapeMarkdown(
      `${names} ${gives} ${best} g${least === most ? '' : `, at least ${least} g and at most ${most} g`}. It is taken off the balance.${guess}`,
    ),
    fenced(lines),
    brokenLines(gasGround(parts.filter(({ high }) => high > 0)).map((one) => escapeMarkdown(assumptionWords(one)))),
  );
};
