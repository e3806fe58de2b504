/** Elements of a picture as text. Everything that comes from a journal goes through `escaped`; figures come out alike on every machine. */
import { visible } from '../text/visible';

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** Text as data: markup in it is shown, and what no reader could see is made visible. */
export const escaped = (text: string): string =>
  visible(text)
    .replace(/[\ufffe\uffff]/g, '\ufffd')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');

/** Hundredths of a unit are finer than any eye. Never in exponent form, never `-0`. */
export const coordinate = (value: number): string => {
  const text = (Number.isFinite(value) ? value : 0).toFixed(2);
  return text.replace(/\.00$|0$/, '').replace(/^-0$/, '0');
};

export const element = (name: string, attributes: Attributes, ...children: readonly string[]): string => {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : escaped(value!)}"`)
    .join('');
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join('')}</${name}>`;
};

export const group = (attributes: Attributes, ...children: readonly string[]): string =>
  element('g', attributes, ...children, '');

export const line = (x1: number, y1: number, x2: number, y2: number, of: string): string =>
  element('line', { x1, y1, x2, y2, class: of });

export interface TextOptions {
  readonly of?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
}

export const text = (x: number, y: number, says: string, { of, anchor }: TextOptions = {}): string =>
  element('text', { x, y, class: of, 'text-anchor': anchor === 'start' ? undefined : anchor }, escaped(says));

/** Room that letters take, in their own height: a careful mean over system fonts, so that labels seldom meet. */
const LETTER = 0.56;

export const widthOf = (says: string, size = 12): number => LETTER * size * [...visible(says)].length;

/** In lines of that room: broken at blanks, else behind a sign within a name, else anywhere. Nothing of it is left out. */
export const wrapped = (says: string, room: number, size = 12): readonly string[] => {
  const lines: string[] = [];
  for (const part of says.split(/(?<=[\s\-_./])/)) {
    const tried = `${lines.at(-1) ?? ''}${part}`;
    if (lines.length > 0 && widthOf(tried.trimEnd(), size) <= room) lines[lines.length - 1] = tried;
    else lines.push(...chopped(part, room, size));
  }
  return lines.map((one) => one.trim());
};

/** What has no place to break at: as many letters as have room, and at least one. */
const chopped = (part: string, room: number, size: number): string[] => {
  const pieces: string[] = [];
  for (const letter of part) {
    const tried = `${pieces.at(-1) ?? ''}${letter}`;
    if (pieces.length > 0 && widthOf(tried.trimEnd(), size) <= room) pieces[pieces.length - 1] = tried;
    else pieces.push(letter);
  }
  return pieces;
};

/** Height of a line of a label. */
export const LINE = 13;

/** Several lines under each other, the first at `y`. */
export const texts = (x: number, y: number, lines: readonly string[], options: TextOptions = {}): string[] =>
  lines.map((says, at) => text(x, y + LINE * at, says, options));

/** A point that is told apart by its shape as well as by its colour. */
export const diamond = (x: number, y: number, r: number, of: string): string =>
  element('path', {
    d: `M${coordinate(x)} ${coordinate(y - r)}L${coordinate(x + r)} ${coordinate(y)}L${coordinate(x)} ${coordinate(y + r)}L${coordinate(x - r)} ${coordinate(y)}Z`,
    class: of,
  });
