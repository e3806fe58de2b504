/** Chemical formulas: what is in them, what a mole weighs, what share of the mass an element has. */
import { element } from './elements';

/** Atoms by symbol. */
export type Atoms = ReadonlyMap<string, number>;

/**
 * The atoms of a formula such as `PbO`, `Ca3(PO4)2`, `Na2B4O7·10H2O` (also with `.` or `*` for the raised dot).
 * Undefined when the text is no formula, or an element in it has no known weight. Never throws.
 */
export function parseFormula(formula: string): Atoms | undefined {
  if (known.has(formula)) return known.get(formula);
  if (known.size >= MOST_KNOWN) known.clear();
  const atoms = atomsRead(formula);
  known.set(formula, atoms);
  return atoms;
}

/** A shop writes some dozens of formulas, and they are asked for at every balance: read once, and begun anew when there are too many. */
const known = new Map<string, Atoms | undefined>();
const MOST_KNOWN = 500;

function atomsRead(formula: string): Atoms | undefined {
  const total = new Map<string, number>();
  for (const part of splitAtDots(formula)) {
    const start = endOfDigits(part, 0);
    const times = start === 0 ? 1 : count(part, 0, start);
    const atoms = times === undefined ? undefined : atomsOfPart(part.slice(start));
    if (times === undefined || atoms === undefined) return undefined;
    addAtoms(total, atoms, times);
  }
  return total;
}

/**
 * Mass of one mole, g/mol, from the standard atomic weights.
 * @throws RangeError for a text that `parseFormula` does not read; ask that first for a formula typed by a user.
 */
export function molarMass(formula: string): number {
  return massOfAtoms(atomsOf(formula));
}

/**
 * Share of a compound's mass that is one element, 0 to 1 (0 for an element that is not in it).
 * @throws RangeError as `molarMass` does.
 */
export function massFraction(formula: string, symbol: string): number {
  const atoms = atomsOf(formula);
  return ((atoms.get(symbol) ?? 0) * weightOf(symbol)) / massOfAtoms(atoms);
}

/** Atoms of a formula known to be good. @throws RangeError if it is not. */
export function atomsOf(formula: string): Atoms {
  const atoms = parseFormula(formula);
  if (!atoms) throw new RangeError(`no formula: ${formula}`);
  return atoms;
}

function massOfAtoms(atoms: Atoms): number {
  let grams = 0;
  for (const [symbol, number] of atoms) grams += number * weightOf(symbol);
  return grams;
}

const weightOf = (symbol: string): number => element(symbol)?.weight?.value ?? 0;

/** Longest run of digits that is read as a count: no formula of the trade needs more. */
const MOST_DIGITS = 4;

const OPENING = '([{';
const CLOSING = ')]}';

const isDigit = (text: string, at: number): boolean => at < text.length && text[at]! >= '0' && text[at]! <= '9';
const isLower = (text: string, at: number): boolean => at < text.length && text[at]! >= 'a' && text[at]! <= 'z';
const isUpper = (text: string, at: number): boolean => at < text.length && text[at]! >= 'A' && text[at]! <= 'Z';

function splitAtDots(formula: string): string[] {
  const parts = [''];
  for (const char of formula) {
    if ('·•.*'.includes(char)) parts.push('');
    else parts[parts.length - 1] += char;
  }
  return parts;
}

function endOfDigits(text: string, from: number): number {
  let at = from;
  while (isDigit(text, at)) at++;
  return at;
}

/** The whole number written from `start` to `end`; undefined when it is nought or too long. */
function count(text: string, start: number, end: number): number | undefined {
  if (end - start > MOST_DIGITS) return undefined;
  let value = 0;
  for (let at = start; at < end; at++) value = value * 10 + (text.charCodeAt(at) - 48);
  return value === 0 ? undefined : value;
}

/** One part between dots, brackets kept on a list rather than by recursion, so that no depth can exhaust the stack. */
function atomsOfPart(text: string): Atoms | undefined {
  const open: { atoms: Map<string, number>; closing: string }[] = [{ atoms: new Map(), closing: '' }];
  let at = 0;
  while (at < text.length) {
    const bracket = OPENING.indexOf(text[at]!);
    if (bracket !== -1) {
      open.push({ atoms: new Map(), closing: CLOSING[bracket]! });
      at++;
      continue;
    }
    const unit = unitAt(text, at, open);
    if (!unit) return undefined;
    const end = endOfDigits(text, unit.end);
    const times = end === unit.end ? 1 : count(text, unit.end, end);
    if (times === undefined) return undefined;
    addAtoms(open.at(-1)!.atoms, unit.atoms, times);
    at = end;
  }
  const whole = open[0]!.atoms;
  return open.length === 1 && whole.size > 0 ? whole : undefined;
}

/** The symbol or the bracket that ends here; a bracket is taken from `open`. */
function unitAt(
  text: string,
  at: number,
  open: { atoms: Map<string, number>; closing: string }[],
): { atoms: Atoms; end: number } | undefined {
  const top = open.at(-1)!;
  if (text[at] === top.closing) {
    open.pop();
    return top.atoms.size > 0 ? { atoms: top.atoms, end: at + 1 } : undefined;
  }
  if (!isUpper(text, at)) return undefined;
  const end = isLower(text, at + 1) ? at + 2 : at + 1;
  const symbol = text.slice(at, end);
  return element(symbol)?.weight ? { atoms: new Map([[symbol, 1]]), end } : undefined;
}

function addAtoms(to: Map<string, number>, atoms: Atoms, times: number): void {
  for (const [symbol, number] of atoms) to.set(symbol, (to.get(symbol) ?? 0) + number * times);
}
