/** The sum behind a figure, line by line, with its decimal points in one column. */
import { add, type Measured } from '../quantity/measured';
import { showQuantity } from '../quantity/show';

export interface SumRow {
  readonly sign: '+' | '-' | '=' | ' ';
  readonly word: string;
  readonly mass: Measured | undefined;
  /** `guessed`, `carried`, `by balance`: how it is known, where it was not weighed. */
  readonly ground?: string;
}

/** More lines than that are drawn together in one: the figure is what is asked for. */
const MOST_ROWS = 14;

/** Rows as lines of text; `unit` is a mass unit. */
export const sumLines = (rows: readonly SumRow[], unit = 'g'): string[] => {
  const shown = shortened(rows);
  const figures = shown.map(({ mass }) => splitFigure(mass ? showQuantity(mass, unit) : '?'));
  const wordWidth = Math.max(...shown.map(({ word }) => word.length));
  const wholeWidth = Math.max(...figures.map(({ whole }) => whole.length));
  const restWidth = Math.max(...figures.map(({ rest }) => rest.length));
  return shown.map(({ sign, word, ground }, index) => {
    const { whole, rest } = figures[index]!;
    const figure = `${whole.padStart(wholeWidth)}${rest.padEnd(restWidth)}`;
    return `${sign} ${word.padEnd(wordWidth)}  ${figure}${ground ? `  ${ground}` : ''}`.trimEnd();
  });
};

const shortened = (rows: readonly SumRow[]): readonly SumRow[] => {
  if (rows.length <= MOST_ROWS) return rows;
  const first = rows.slice(0, MOST_ROWS - 3);
  const last = rows.slice(-2);
  const between = rows.slice(MOST_ROWS - 3, -2);
  const signs = (sign: SumRow['sign']): SumRow[] => {
    const same = between.filter((row) => row.sign === sign);
    const masses = same.flatMap(({ mass }) => mass ?? []);
    return same.length > 0 && masses.length > 0 ? [{ sign, word: `${same.length} more`, mass: add(...masses) }] : [];
  };
  return [...first, ...signs('+'), ...signs('-'), ...last];
};

/** `58.16 g ±0.01` parts at its point: `58` and `.16 g ±0.01`. */
const splitFigure = (figure: string): { whole: string; rest: string } => {
  let end = 0;
  while (end < figure.length && figure[end] !== '.' && figure[end] !== ' ') end++;
  return { whole: figure.slice(0, end), rest: figure.slice(end) };
};
