/** `fineweight textconv FILE`: a page for git to compare: its lines without their spacing and comments, each with its computed figure. */
import { readFileSync } from 'node:fs';
import { hintsOf } from '../features/hints';
import { decodeUtf8 } from '../files/utf8';
import { canonicalLines } from '../record/canonical';
import type { Section } from '../syntax/tree';
import { lineAt } from '../text/lines';
import { visible } from '../text/visible';
import { emptyWorkspace, withTexts } from '../workspace/update';
import type { Outcome } from './check';
import { UsageError } from './options';

/** The page stands alone: of an older version the other pages are not at hand, and both are to be read alike. */
export const textconv = (path: string): Outcome => {
  const text = textOf(path);
  const workspace = withTexts(emptyWorkspace('.'), new Map([['page.melt', text]]));
  const labels = new Map(hintsOf(workspace, 'page.melt').map(({ offset, label }) => [lineAt(text, offset), label]));
  const { page } = workspace.pages.get('page.melt')!;
  const lines = page.sections.flatMap((section) => {
    if (section.kind === 'conflict') return section.text.trimEnd().split(/\r?\n/);
    return withFigures(section, lineAt(text, page.starts.get(section)!), labels);
  });
  return { text: lines.map((line) => `${visible(line)}\n`).join(''), exit: 0 };
};

/** The lines that say something are those of the canonical form, one by one. */
const withFigures = (section: Section, first: number, labels: ReadonlyMap<number, string>): readonly string[] => {
  const said = canonicalLines(section);
  const isDay = section.kind === 'day';
  const written = section.text.split(/\r\n|\r|\n/);
  const saying = written.flatMap((line, at) => (/^\s*(?:#(?:\s.*)?)?$/.test(line) || (isDay && at === 0) ? [] : [at]));
  const hasText = isDay && said.length > saying.length;
  return [...(isDay ? [section.date ?? written[0]!.trim()] : []), ...said].map((line, at) => {
    const label = labels.get(first + (saying[at - (isDay ? 1 : 0) - (hasText ? 1 : 0)] ?? 0));
    return `${line.replaceAll(' ,', ',')}${label === undefined || (isDay && at === 0) ? '' : `  │ ${label}`}`;
  });
};

const textOf = (path: string): string => {
  try {
    const decoded = decodeUtf8(readFileSync(path));
    if (decoded.ok) return decoded.text;
  } catch {
    throw new UsageError(`${visible(path)} cannot be read.`);
  }
  throw new UsageError(`${visible(path)} is not UTF-8.`);
};
