/** The net weight behind what was typed: less its tare, before less after, a sum, a mean, another unit. */
import type { Weight } from '../../engine/book';
import type { Amount, Said } from '../../engine/entry';
import { weighAmount } from '../../engine/weigh';
import { showMass, showQuantity } from '../../quantity/show';
import { fitting } from '../../reports/figures';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { sumLines } from '../../reports/sum';
import { flowWords } from '../../reports/words';
import type { Place } from '../../text/place';
import { type Draft, familyOf, RANK, type Subject } from './draft';

export const weightDrafts = ({ workspace, entry }: Subject): Draft[] => {
  const family = familyOf(entry.verb);
  const draft = (at: Place, amount: Amount | undefined, said: Said, name: string): Draft[] => {
    const weight = weighAmount(amount, said, workspace.workshop, name);
    const label = netLabel(weight, amount, said);
    if (label === undefined) return [];
    return [{ at, label, tooltip: () => netTooltip(weight, amount, said), family, rank: RANK.weight }];
  };
  const name = entry.name?.name ?? entry.verb;
  const isLine = entry.amounts.some(({ amount }) => amount === entry.amount);
  const head =
    entry.amount && !isLine && entry.verb !== 'check-scale' ? draft(entry.head, entry.amount, entry.said, name) : [];
  return [
    ...head,
    ...entry.amounts.flatMap(({ amount, said }) => draft(amount.place, amount, said, name)),
    ...entry.flows.flatMap((flow) => draft(flow.amount?.place ?? flow.place, flow.amount, flow.said, flowWords(flow))),
  ];
};

const netLabel = (weight: Weight, amount: Amount | undefined, said: Said): string | undefined => {
  const { mass } = weight;
  if (isBelowTare(weight)) return 'no net weight: tare above gross';
  if (!mass) return amount?.gross && amount.figure ? 'no net weight: tare not known' : undefined;
  const net = showMass(mass);
  if (weight.tare) return fitting(`net ${net}${stateMark(weight)}`, `net ${net}`);
  if (!amount) return said.before && said.after ? `${net} used` : undefined;
  if (amount.figure?.form === 'sum') return `${net} in all`;
  if (amount.figure?.form === 'repeats') return `mean ${net}`;
  return isOtherUnit(amount) ? `= ${net}` : undefined;
};

const isBelowTare = ({ mass, gross, tare }: Weight): boolean => mass === undefined && !!gross && !!tare;

const stateMark = ({ states }: Weight): string => {
  const state = states.find((word) => word === 'wet' || word === 'damp' || word === 'hot');
  return state ? ` ${state}` : '';
};

const METRIC: ReadonlySet<string> = new Set(['g', 'kg', 'mg']);

/** A figure whose grams are not to be read off it. */
const isOtherUnit = ({ figure }: Amount): boolean => {
  if (figure?.form !== 'reading') return false;
  const { unit, measure } = figure.digits;
  return measure !== undefined || (unit?.kind === 'mass' && !METRIC.has(unit.symbol));
};

const netTooltip = (weight: Weight, amount: Amount | undefined, said: Said): string => {
  const { mass, gross, tare } = weight;
  if (isBelowTare(weight)) return 'The empty vessel weighs more than the full one: mend one of the two.';
  if (!mass)
    return 'A gross weight without a tare. Write the tare behind it: `tare 18.20 g`, or `tare` and a vessel of the workshop file.';
  const scale = amount?.scale ?? said.scale;
  const on = scale
    ? escapeMarkdown(`Read on ${scale.name}.`)
    : 'No scale named: the last digit is taken for its division.';
  if (gross && tare) {
    const rows = [
      { sign: '+', word: 'gross', mass: gross },
      { sign: '-', word: tareName(said), mass: tare },
      { sign: '=', word: 'net', mass },
    ] as const;
    return paragraphs(
      fenced(sumLines(rows)),
      on,
      weight.states.includes('wet') ? 'Weighed wet: the water is in it.' : '',
    );
  }
  const what = escapeMarkdown(showQuantity(mass, 'g'));
  const guess = mass.guessed ? ' A guess, and marked in all that follows.' : '';
  return paragraphs(`${what}.${guess}`, mass.guessed ? undefined : on);
};

const tareName = ({ tare }: Said): string => (tare && 'name' in tare ? `tare ${tare.name}` : 'tare');
