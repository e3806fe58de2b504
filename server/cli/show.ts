/** `fineweight show`: a page with its computed figures at the ends of lines, as the editor shows them, then its findings. */
import { hintsOf } from '../features/hints';
import { findingsOf } from '../rules/findings';
import { visible } from '../text/visible';
import { linesOf } from '../workspace/lines';
import type { Workspace } from '../workspace/workspace';
import type { Paint } from './paint';
import { besideLines, countsOf, findingText, summary } from './print';

export const show = (workspace: Workspace, file: string, paint: Paint): string => {
  const findings = findingsOf(workspace, file);
  const texts = findings.map((finding) => findingText(workspace, finding, paint));
  const end = summary(countsOf(findings), 1, false);
  return [...pageLines(workspace, file, paint), '', ...texts.flatMap((text) => [text, '']), end, ''].join('\n');
};

export const pageLines = (workspace: Workspace, file: string, paint: Paint): readonly string[] => {
  const lines = linesOf(workspace, file);
  const labels = new Map(hintsOf(workspace, file).map(({ offset, label }) => [lines.positionOf(offset).line, label]));
  const count = lines.positionOf(lines.text.length).line;
  const texts = Array.from({ length: count }, (_, index) => visible(lines.lineAt(index + 1)).replaceAll('\t', '  '));
  if (texts.at(-1) === '') texts.pop();
  return besideLines(texts, labels, paint);
};
