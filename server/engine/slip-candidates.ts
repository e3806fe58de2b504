/**
 * How else a written figure may have been meant: every reading that one known slip of hand or eye would have turned into it. Each keeps its
 * unit and its decimals as typed, but where the slip itself is one of unit or point.
 */
import { type Decimal, decimal, decimalsOf, isNumberText } from '../quantity/decimal';
import { type UnitRow, unit } from '../quantity/units';
import type { Scale } from '../quantity/weighing';
import type { Place } from '../text/place';
import type { Slip } from './book';
import type { Digits } from './entry';
import { divisionOf } from './weigh';

/** A figure that may have been meant. */
export interface Candidate {
  readonly kind: Slip['kind'];
  /** Digits and unit: `61.37 g`. */
  readonly reads: string;
  readonly grams: Decimal;
  readonly divisionGrams: number;
  /** Of all slips that a figure may suffer, the share that would have made this very one into what is written. */
  readonly prior: number;
  /** How many other figures it could have been just as well: lines that it may have been copied from. */
  readonly ways?: number;
  /** What it replaces, where that is not the figure itself. */
  readonly at?: Place;
}

export interface CandidateGround {
  readonly scale: Scale | undefined;
  /** Known tares, in grams. */
  readonly tares: readonly Decimal[];
  /** The tare that is taken off this figure, in grams. */
  readonly ownTare?: Decimal | undefined;
}

/**
 * Shares of the kinds among slips; start values (no source; hand-copied numbers in the literature have more single digits and no units
 * or tares). Divided among a kind's alternatives on a figure, so that a kind that can explain anything explains nothing.
 */
export const KIND_SHARE: Readonly<Record<Slip['kind'], number>> = {
  swap: 0.15,
  point: 0.12,
  zero: 0.08,
  double: 0.06,
  unit: 0.12,
  tare: 0.15,
  copied: 0.06,
  side: 0.03,
  jump: 0.02,
  digit: 0.2,
};

/** A tare is forgotten or taken twice: where one of the two alone can be tried, the other keeps its half. */
const FEWEST_WAYS: Readonly<Partial<Record<Slip['kind'], number>>> = { tare: 2 };

/** Every figure that one slip would turn into the written one; each once, its shares added up. Needs a unit of mass. */
export function candidatesFor(written: Digits, ground: CandidateGround): readonly Candidate[] {
  if (written.unit?.kind !== 'mass' || !isNumberText(written.text)) return [];
  const of = written.unit;
  const found = new Map<string, Candidate>();
  const addAll = (kind: Slip['kind'], variants: readonly Variant[]) => {
    const all = Math.max(
      FEWEST_WAYS[kind] ?? 0,
      variants.reduce((sum, { weight }) => sum + weight, 0),
    );
    for (const { text, in: other = of, weight } of variants) {
      const candidate = candidateOf(kind, text, other, (KIND_SHARE[kind] * weight) / all);
      if (candidate && differs(candidate, written) && onScale(candidate, kind, ground.scale)) keep(found, candidate);
    }
  };
  addAll('swap', swaps(written.text, 1));
  addAll('point', points(written.text));
  addAll('zero', zeros(written.text));
  addAll('double', doubles(written.text));
  addAll('unit', units(written));
  addAll('tare', [...tares(written, of, ground.tares), ...takenTwice(written, of, ground.ownTare)]);
  addAll('jump', [...swaps(written.text, 2), ...twins(written.text)]);
  addAll('digit', digits(written.text));
  return [...found.values()];
}

interface Variant {
  readonly text: string;
  readonly in?: UnitRow;
  readonly weight: number;
}

const plain = (text: string): Variant => ({ text, weight: 1 });

function candidateOf(kind: Slip['kind'], text: string, of: UnitRow, prior: number): Candidate | undefined {
  // A figure has no noughts before its first digit, but for the one before the point.
  if (!isNumberText(text) || (text.startsWith('0') && text[1] !== '.')) return undefined;
  const grams = decimal(text).times(of.factor);
  return { kind, reads: `${text} ${of.symbol}`, grams, divisionGrams: divisionOf(text, of), prior };
}

const differs = ({ grams }: Candidate, written: Digits): boolean =>
  !grams.isZero() && !grams.equals(written.value.times(written.unit!.factor));

function keep(found: Map<string, Candidate>, candidate: Candidate): void {
  const known = found.get(candidate.reads);
  if (!known) found.set(candidate.reads, candidate);
  else {
    const likelier = known.prior >= candidate.prior ? known : candidate;
    found.set(candidate.reads, { ...likelier, prior: known.prior + candidate.prior });
  }
}

/** Only what the scale could have shown. A wrong unit was converted by nobody: its digits are what the scale showed. */
function onScale({ grams }: Candidate, kind: Slip['kind'], scale: Scale | undefined): boolean {
  if (scale?.capacity && grams.greaterThan(scale.capacity)) return false;
  if (!scale?.division || kind === 'unit' || kind === 'tare') return true;
  return grams.mod(scale.division).isZero();
}

/** Positions of digits, the point left out. */
const places = (text: string): number[] => [...text].flatMap((char, at) => (char === '.' ? [] : [at]));

/** Two digits `apart` places from each other changed about. */
function swaps(text: string, apart: number): Variant[] {
  const at = places(text);
  return at.slice(0, Math.max(0, at.length - apart)).flatMap((first, index) => {
    const second = at[index + apart]!;
    if (text[first] === text[second]) return [];
    return [plain(put(put(text, first, text[second]!), second, text[first]!))];
  });
}

const put = (text: string, at: number, char: string): string => text.slice(0, at) + char + text.slice(at + 1);

const TEN = [...'0123456789'];

/** A pair of equal digits that was another pair: 55 for 44. */
function twins(text: string): Variant[] {
  const at = places(text);
  return at.slice(0, -1).flatMap((first, index) => {
    const second = at[index + 1]!;
    if (text[first] !== text[second]) return [];
    return TEN.filter((digit) => digit !== text[first]).map((digit) =>
      plain(put(put(text, first, digit), second, digit)),
    );
  });
}

/** The point one or two places to either side. */
function points(text: string): Variant[] {
  return [-2, -1, 1, 2].map((by) => plain(movePoint(text, by)));
}

function movePoint(text: string, by: number): string {
  const [whole = '', fraction = ''] = text.split('.');
  const padded = `${'0'.repeat(Math.max(0, -by))}${whole}${fraction}${'0'.repeat(Math.max(0, by - fraction.length))}`;
  const point = whole.length + by + Math.max(0, -by);
  const figures = padded.slice(0, point);
  const before = figures.replace(/^0+/, '') || figures.slice(-1);
  const after = padded.slice(point);
  return after ? `${before || '0'}.${after}` : before;
}

/** A nought put in, or taken out. */
function zeros(text: string): Variant[] {
  const put0 = [...Array(text.length + 1).keys()].map((at) => `${text.slice(0, at)}0${text.slice(at)}`);
  return [...new Set([...put0, ...without(text, (char) => char === '0')])].filter((one) => one !== text).map(plain);
}

const without = (text: string, which: (char: string, at: number) => boolean): string[] =>
  [...text].flatMap((char, at) => (which(char, at) ? [text.slice(0, at) + text.slice(at + 1)] : []));

/** A digit typed once that stood twice, or twice that stood once. */
function doubles(text: string): Variant[] {
  const doubled = places(text).map((at) => text.slice(0, at) + text[at] + text.slice(at));
  const single = without(text, (char, at) => char !== '.' && text[at + 1] === char);
  return [...new Set([...doubled, ...single])].map(plain);
}

const UNITS_TRIED = ['g', 'dwt', 'ozt', 'oz', 'gr', 'ct'].map((symbol) => unit(symbol)!);

/** The same digits in another unit. */
const units = (written: Digits): Variant[] =>
  UNITS_TRIED.filter((other) => other !== written.unit).map((other) => ({ text: written.text, in: other, weight: 1 }));

/** A vessel's tare left on, or taken off once too often. */
function tares(written: Digits, of: UnitRow, known: readonly Decimal[]): Variant[] {
  const decimals = decimalsOf(written.text);
  return known.flatMap((tare) => {
    const change = tare.div(of.factor);
    return [written.value.minus(change), written.value.plus(change)]
      .filter((value) => value.greaterThan(0))
      .map((value) => plain(value.toFixed(decimals)));
  });
}

/** The scale had the vessel off already, and the tare was taken off once more: the weight that it should have been taken from. */
const takenTwice = (written: Digits, of: UnitRow, tare: Decimal | undefined): Variant[] =>
  tare ? [plain(written.value.plus(tare.div(of.factor)).toFixed(decimalsOf(written.text)))] : [];

/** Look-alikes in handwriting, neighbours on a number pad. */
const ALIKE: ReadonlySet<string> = new Set(
  ['17', '38', '56', '06', '49', '78', '89', '45', '12', '23', '47', '14', '58', '25', '69', '36', '01', '02'].flatMap(
    (pair) => [pair, `${pair[1]}${pair[0]}`],
  ),
);
const ALIKE_WEIGHT = 3;

function digits(text: string): Variant[] {
  return places(text).flatMap((at) =>
    TEN.filter((digit) => digit !== text[at]).map((digit) => ({
      text: put(text, at, digit),
      weight: ALIKE.has(`${text[at]}${digit}`) ? ALIKE_WEIGHT : 1,
    })),
  );
}
