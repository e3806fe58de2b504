/** `fineweight explain`: the page of a finding, the same text as in the editor and in the reference. */

import { FINDING_PAGES, type FindingPage, findingPage } from '../features/rule-pages';
import { nearest } from '../text/nearest';
import { UsageError } from './options';
import type { Paint } from './paint';

/** Throws a UsageError for a code that there is not. */
export const explain = (code: string | undefined, paint: Paint): string => {
  if (code === undefined) return listText(paint);
  const page = findingPage(code);
  if (page) return pageText(page, paint);
  const near = nearest(
    code,
    FINDING_PAGES.map((one) => one.code),
  );
  const meant = near ? ` Did you mean ${near}?` : '';
  throw new UsageError(`There is no finding ${code}.${meant} \`fineweight explain\` lists them all.`);
};

const listText = (paint: Paint): string => {
  const width = Math.max(...FINDING_PAGES.map(({ code }) => code.length));
  return FINDING_PAGES.map(
    ({ code, severity, title }) => `${paint('bold', code.padEnd(width))}  ${severity.padEnd(7)}  ${title}\n`,
  ).join('');
};

const WIDTH = 88;

const pageText = (page: FindingPage, paint: Paint): string => {
  const { code, severity, title, why, wrong, right, source, beside } = page;
  return `${[
    `${paint('bold', code)} (${severity}): ${title}`,
    wrapped(why),
    ...(beside === undefined ? [] : [`With this page beside it:\n\n${indented(beside)}`]),
    `Wrong:\n\n${indented(wrong)}`,
    `Right:\n\n${indented(right)}`,
    ...(source === undefined ? [] : [wrapped(`Source: ${source}`)]),
  ].join('\n\n')}\n`;
};

const indented = (text: string): string =>
  text
    .split('\n')
    .map((line) => (line === '' ? '' : `    ${line}`))
    .join('\n');

const wrapped = (text: string): string => {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + word.length >= WIDTH) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].join('\n');
};
