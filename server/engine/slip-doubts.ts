/** The figures of a weighing that can be doubted, one by one, and what each may have been meant to be. */
import type { Decimal } from '../quantity/decimal';
import type { Handover } from './book';
import type { Amount, Digits, Flow, Said } from './entry';
import { type Candidate, candidatesFor, KIND_SHARE } from './slip-candidates';
import type { Doubt, OtherBalance } from './slip-ranking';
import { gramsOf, scaleOf } from './weigh';
import type { Workshop } from './workshop';

/** The figures of an amount that can be doubted one by one: a reading, or each go of a sum; and the tare that was taken off. */
export function doubtsOf(
  amount: Amount | undefined,
  said: Said,
  sign: 1 | -1,
  workshop: Workshop,
  other: OtherBalance | undefined,
  otherTare?: Decimal,
): Doubt[] {
  const figure = amount?.figure;
  if (!amount || !figure || amount.guessed || (figure.form !== 'reading' && figure.form !== 'sum')) return [];
  const scale = scaleOf(amount, said, workshop);
  const parts = figure.form === 'sum' ? figure.parts : [figure.digits];
  const tares = taresFor(amount, said, workshop, otherTare);
  const ground = { scale, tares, ownTare: ownTare(said, workshop) };
  const weights = parts.map((digits) => ({ amount, digits, sign, candidates: candidatesFor(digits, ground), other }));
  return [...weights, ...tareDoubts(amount, said, sign, workshop)];
}

/** Tares that may have been forgotten, where none was taken off: that of the same lot's other weighing, and those of all vessels. */
const taresFor = (amount: Amount, { tare }: Said, { containers }: Workshop, other?: Decimal): Decimal[] => {
  if (tare || amount.gross) return [];
  const all = [...(other ? [other] : []), ...[...containers.values()].flatMap(({ tareGrams }) => tareGrams ?? [])];
  return all.filter((one, at) => all.findIndex((same) => same.equals(one)) === at);
};

/** The tare that was taken off; it may have been off already. */
export function ownTare({ tare }: Said, { containers }: Workshop): Decimal | undefined {
  if (!tare) return undefined;
  if ('name' in tare) return containers.get(tare.name)?.tareGrams;
  return tare.figure?.form === 'reading' ? gramsOf(tare.figure.digits)?.grams : undefined;
}

/** A tare that was typed may be the wrong figure: a heavier one makes a lighter weight. */
function tareDoubts(amount: Amount, said: Said, sign: 1 | -1, workshop: Workshop): Doubt[] {
  const { tare } = said;
  if (!tare || 'name' in tare || tare.figure?.form !== 'reading' || tare.guessed) return [];
  const { digits } = tare.figure;
  const candidates = candidatesFor(digits, { scale: scaleOf(tare, said, workshop), tares: [] });
  return [{ amount, digits, sign: sign > 0 ? -1 : 1, candidates, other: undefined, inTare: true }];
}

/** A figure that also stands on another line of its entry may have been copied from there; the other weighing says what it should be. */
export function withCopied(doubt: Doubt, { from, to }: Omit<Handover, 'slips'>): Doubt {
  if (doubt.inTare) return doubt;
  const [own, source] = doubt.sign < 0 ? [from, to] : [to, from];
  const figure = source.weight.amount?.figure;
  const meant = figure?.form === 'reading' && !source.weight.tare ? figure.digits : undefined;
  const read = meant && gramsOf(meant);
  const neighbours = own.entry.flows.flatMap((flow) => plainDigits(flow, doubt.amount));
  const same = neighbours.some((other) => other.text === doubt.digits.text && other.unit === doubt.digits.unit);
  if (!same || !meant || !read || own.weight.tare) return doubt;
  const copied: Candidate = {
    kind: 'copied',
    reads: `${meant.text} ${meant.unit!.symbol}`,
    grams: read.grams,
    divisionGrams: read.division,
    prior: KIND_SHARE.copied / neighbours.length,
    ways: neighbours.length,
  };
  const rest = doubt.candidates.filter(({ reads }) => reads !== copied.reads);
  return { ...doubt, candidates: [...rest, copied] };
}

function plainDigits({ amount }: Flow, but: Amount): Digits[] {
  return amount && amount !== but && amount.figure?.form === 'reading' ? [amount.figure.digits] : [];
}

/** What is written `in` may have come out, and the other way about. */
export function withSide(doubt: Doubt, flow: Flow): Doubt {
  const read = doubt.inTare ? undefined : gramsOf(doubt.digits);
  if ((flow.word !== 'in' && flow.word !== 'out') || flow.amount?.figure?.form !== 'reading' || !read) return doubt;
  const other: Candidate = {
    kind: 'side',
    reads: flow.word === 'in' ? 'out' : 'in',
    grams: read.grams.negated(),
    divisionGrams: read.division,
    prior: KIND_SHARE.side,
    at: { ...flow.place, end: flow.place.start + flow.word.length },
  };
  return { ...doubt, candidates: [...doubt.candidates, other] };
}
