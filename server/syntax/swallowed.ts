/** A text that goes on to the end of its line, and takes with it what was meant as a detail. */
import type { Span } from '../text/span';
import { detail } from '../vocabulary/details';
import { report } from './cursor';
import { scan } from './tokens';
import type { Problem } from './tree';

/** `note stirred, out S57 …`: what follows the comma reads as a detail with a figure. */
export const reportSwallowed = (text: string, value: Span, problems: Problem[]): void => {
  const tokens = scan(text, value);
  tokens.forEach((token, index) => {
    const word = tokens[index + 1];
    if (token.kind !== 'comma' || word?.kind !== 'word') return;
    const row = detail(word.text);
    const next = tokens[index + 2];
    const figure = tokens.slice(index + 2, index + 5).some((later) => later.kind === 'number');
    if (row?.group === 'flows' && next && figure) report(problems, 'swallowed-detail', word, word.text);
  });
};
