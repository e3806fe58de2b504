/**
 * The frame of every picture: its size, its colours, its words for those who do not see it. Colours are custom properties with a default for
 * light, dark and paper: whoever shows a picture sets `--fineweight-ink` and the others on any element around it. What is told by colour is
 * told by shape, pattern or label as well.
 */
import { element, escaped, group, text, wrapped } from './svg';

export interface Picture {
  readonly svg: string;
  readonly title: string;
  /** What it shows, in a few sentences: its text alternative. */
  readonly says: string;
}

/** Every picture is as wide, but one that would have no room for its words; on paper it shrinks with its column. */
export const WIDTH = 760;
export const MARGIN = 16;
/** Height of title and line below it. */
export const HEAD = 58;

interface Colour {
  readonly name: string;
  readonly light: string;
  readonly dark: string;
}

/** Gold, silver, loss and other metals stay apart for every common kind of colour-blindness, and in grey by their lightness. */
const COLOURS: readonly Colour[] = [
  { name: 'paper', light: '#ffffff', dark: '#1e2124' },
  { name: 'ink', light: '#1f2428', dark: '#e8eaec' },
  { name: 'soft', light: '#5a636b', dark: '#a7afb7' },
  { name: 'line', light: '#cdd3d8', dark: '#454c53' },
  { name: 'band', light: '#e9eef2', dark: '#2b3238' },
  { name: 'gold', light: '#b27700', dark: '#f0b840' },
  { name: 'silver', light: '#33689c', dark: '#7fb4e6' },
  { name: 'other', light: '#3f7d5f', dark: '#7cc4a0' },
  { name: 'loss', light: '#b0350a', dark: '#ff8f66' },
];

const properties = (shade: 'light' | 'dark'): string =>
  COLOURS.map((one) => `--${one.name}:var(--fineweight-${one.name},${one[shade]})`).join(';');

const TITLE_LINE = 20;
const BELOW_LINE = 15;

const CLASS = 'fineweight-picture';

/** What stands in every picture; whoever shows several on one page may say it once. */
export const PICTURE_STYLE = [
  `.${CLASS}{${properties('light')};font:12px system-ui,sans-serif;fill:var(--ink);background:var(--paper)}`,
  `@media (prefers-color-scheme:dark){.${CLASS}{${properties('dark')}}}`,
  `@media print{.${CLASS}{${properties('light')};print-color-adjust:exact}}`,
  `.${CLASS} .title{font-size:16px;font-weight:600}`,
  `.${CLASS} .soft{fill:var(--soft)}`,
  `.${CLASS} .small{font-size:11px}`,
  `.${CLASS} .strong{font-weight:600}`,
  `.${CLASS} .halo{paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round}`,
  `.${CLASS} .paper{fill:var(--paper)}`,
  `.${CLASS} .axis{stroke:var(--soft);stroke-width:1}`,
  `.${CLASS} .grid{stroke:var(--line);stroke-width:1}`,
  `.${CLASS} .band{fill:var(--band)}`,
  `.${CLASS} .limit{stroke:var(--ink);stroke-width:1.2;stroke-dasharray:6 4;fill:none}`,
  `.${CLASS} .centre{stroke:var(--ink);stroke-width:1.2;fill:none}`,
  `.${CLASS} .interval{stroke:var(--ink);stroke-width:1.6}`,
  `.${CLASS} .median{stroke:var(--ink);stroke-width:3;fill:none}`,
  ...['gold', 'silver', 'other', 'loss', 'ink', 'soft'].flatMap((name) => [
    `.${CLASS} .fill-${name}{fill:var(--${name})}`,
    `.${CLASS} .stroke-${name}{stroke:var(--${name});stroke-width:1.8;fill:none}`,
  ]),
  `.${CLASS} .faint{opacity:.45}`,
  `.${CLASS} .veil{opacity:.18}`,
].join('');

/** The colour of a metal. */
export const colourOf = (metal: string): 'gold' | 'silver' | 'other' =>
  metal === 'Au' ? 'gold' : metal === 'Ag' ? 'silver' : 'other';

/** `key` keeps its parts apart from those of other pictures on one page: letters, digits and hyphens. */
export const framed = (
  key: string,
  title: string,
  below: string,
  says: string,
  height: number,
  body: readonly string[],
  width = WIDTH,
): Picture => {
  const titles = wrapped(title, width - 2 * MARGIN, 17);
  const belows = below === '' ? [] : wrapped(below, width - 2 * MARGIN);
  const titleEnd = 26 + TITLE_LINE * (titles.length - 1);
  const lower = titleEnd - 26 + BELOW_LINE * Math.max(0, belows.length - 1);
  const full = Math.ceil(height + lower);
  const id = `fineweight-${key.toLowerCase().replace(/[^a-z0-9]+/g, '-')}`;
  const [titleId, wordsId] = [`${id}-title`, `${id}-words`];
  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${width} ${full}`,
      width,
      height: full,
      role: 'img',
      'aria-labelledby': `${titleId} ${wordsId}`,
      class: CLASS,
    },
    element('title', { id: titleId }, escaped(title)),
    element('desc', { id: wordsId }, escaped(says)),
    element('style', {}, PICTURE_STYLE),
    element('rect', { width, height: full, class: 'paper' }),
    ...titles.map((says, at) => text(MARGIN, 26 + TITLE_LINE * at, says, { of: 'title' })),
    ...belows.map((says, at) => text(MARGIN, titleEnd + 19 + BELOW_LINE * at, says, { of: 'soft' })),
    ...(lower === 0 ? body : [group({ transform: `translate(0 ${lower})` }, ...body)]),
  );
  return { svg: `${svg}\n`, title, says };
};

/** Where there is nothing to draw, that is what is shown. */
export const nothingToShow = (key: string, title: string, why: string): Picture =>
  framed(key, title, '', why, HEAD + 40, [text(MARGIN, HEAD + 10, why)]);
