/** Runs of letters of one kind, found in one pass from the end: a pattern would try from every place in the text. */

/** The longest end of a text in which every letter is so; empty where the last one is not. */
export const endRun = (text: string, isSo: (letter: string) => boolean): string => {
  let start = text.length;
  while (start > 0 && isSo(text[start - 1]!)) start--;
  return text.slice(start);
};

export const isFigure = (letter: string): boolean => letter >= '0' && letter <= '9';

/** `57` of `M57b`: the last figures in a name, and what stands behind them; undefined where it has none. */
export const lastFigures = (name: string): { readonly figures: string; readonly behind: string } | undefined => {
  const behind = endRun(name, (letter) => !isFigure(letter));
  const figures = endRun(name.slice(0, name.length - behind.length), isFigure);
  return figures === '' ? undefined : { figures, behind };
};
