/** A document as one HTML file: no script, no outside request; prints on A4 and Letter. All text of the journal is escaped. */

import type { Place } from '../../text/place';
import { visible } from '../../text/visible';
import {
  type Block,
  type Cell,
  type Column,
  type Document,
  type Row,
  type Section,
  type Sentence,
  spansOf,
} from '../model';
import { type Format, footOf, type Setting, whereWords } from './format';
import { styleFor, type Theme } from './style';

/** Nothing is loaded and nothing runs, whatever stands in the text. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

export const htmlFor =
  (theme: Theme): Format =>
  (document, setting) =>
    `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${escapeHtml(document.title)}</title>
<style>${styleFor(theme, setting.paper)}</style>
</head>
<body>
<header>
${headingOf(setting)}<h1>${escapeHtml(document.title)}</h1>
</header>
<main>
${factsOf(document, setting)}${document.sections.map((section, at) => sectionOf(section, at + 1, setting)).join('')}</main>
<footer>
${footOf(setting)
  .map((text) => `<p>${escapeHtml(text)}</p>`)
  .join('\n')}
</footer>
</body>
</html>
`;

export const html: Format = htmlFor('page');

const headingOf = ({ heading, address }: Setting): string => {
  const words = [heading, address].flatMap((one) => (one ? [escapeHtml(one)] : []));
  return words.length > 0 ? `<p>${words.join(' · ')}</p>\n` : '';
};

const factsOf = ({ facts }: Document, setting: Setting): string =>
  facts.length === 0
    ? ''
    : `<dl>
${facts
  .map(({ label, cell, place }) => `<dt>${escapeHtml(label)}</dt><dd>${cellOf(cell)}${linkAfter(place, setting)}</dd>`)
  .join('\n')}
</dl>
`;

const sectionOf = ({ title, blocks }: Section, at: number, setting: Setting): string => {
  const id = `s${at}`;
  return `<section>
<h2 id="${id}">${escapeHtml(title)}</h2>
${blocks.map((block) => blockOf(block, id, setting)).join('')}</section>
`;
};

const blockOf = (block: Block, id: string, setting: Setting): string => {
  switch (block.form) {
    case 'sentences':
      return `<ul>
${block.sentences.map((one) => `<li>${sentenceOf(one)}${linkAfter(one.place, setting)}</li>`).join('\n')}
</ul>
`;
    case 'picture':
      return `<figure tabindex="0">${block.svg}</figure>\n`;
    case 'table':
      return `<div class="wide" tabindex="0">
${tableOf(block.columns, block.rows, id, setting)}</div>
`;
  }
};

const sentenceOf = (sentence: Sentence): string =>
  spansOf(sentence)
    .map(({ text, code }) => (code ? `<code>${escapeHtml(text)}</code>` : escapeHtml(text)))
    .join('');

const tableOf = (columns: readonly Column[], rows: readonly Row[], id: string, setting: Setting): string => {
  const hasPlaces = rows.some(({ place }) => place);
  const named = columns.map(({ right }, at) => (right ? ['right'] : lengthOf(rows, at)));
  const classes = named.map((names) => classed(...names));
  const heads = [
    ...columns.map(
      (column, at) =>
        `<th scope="col"${classed(...named[at]!, column.head.length > LONGEST_HEAD && 'broken')}>${escapeHtml(column.head)}</th>`,
    ),
    ...(hasPlaces ? ['<th scope="col">line</th>'] : []),
  ];
  return `<table aria-labelledby="${id}">
<thead><tr>${heads.join('')}</tr></thead>
<tbody>
${rows.map((row) => rowOf(row, classes, hasPlaces, setting)).join('\n')}
</tbody>
</table>
`;
};

const classed = (...names: readonly (string | false)[]): string => {
  const all = names.filter(Boolean).join(' ');
  return all === '' ? '' : ` class="${all}"`;
};

/** A head of several words may stand over figures on two lines. */
const LONGEST_HEAD = 12;

/** Names and days stay on one line; a column in which somebody tells something is broken, and has more room where it is much. */
const lengthOf = (rows: readonly Row[], at: number): readonly string[] => {
  const longest = Math.max(0, ...rows.map(({ cells }) => cells[at]?.text.length ?? 0));
  return longest <= LONGEST_NAME ? [] : longest <= LONGEST_PHRASE ? ['long'] : ['long', 'told'];
};
const LONGEST_NAME = 24;
const LONGEST_PHRASE = 60;

/** Blanks of one width that stay. */
const INDENT = '&emsp;';

const rowOf = (
  { cells, place, total, depth = 0 }: Row,
  classes: readonly string[],
  hasPlaces: boolean,
  setting: Setting,
): string => {
  const each = cells.map((cell, at) =>
    at === 0
      ? `<th scope="row"${classes[at]}>${INDENT.repeat(depth)}${cellOf(cell)}</th>`
      : `<td${classes[at]}>${cellOf(cell)}</td>`,
  );
  const line = hasPlaces ? `<td class="line">${place ? link(place, setting) : ''}</td>` : '';
  return `<tr${total ? ' class="total"' : ''}>${each.join('')}${line}</tr>`;
};

const cellOf = ({ text, ground }: Cell): string =>
  `${escapeHtml(text)}${ground && text !== '' ? ` <small>${escapeHtml(ground)}</small>` : ''}`;

const linkAfter = (place: Place | undefined, setting: Setting): string => (place ? ` ${link(place, setting)}` : '');

const link = (place: Place, setting: Setting): string => {
  const where = setting.where(place);
  const address = setting.link(where);
  const words = escapeHtml(whereWords(where));
  return address === undefined
    ? `<span class="line">${words}</span>`
    : `<a class="line" href="${escapeHtml(address)}">${words}</a>`;
};

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Hidden and control characters are shown as escapes; a line break stays. */
export const escapeHtml = (text: string): string =>
  text
    .split('\n')
    .map(visible)
    .join('\n')
    .replace(/[&<>"']/g, (character) => ENTITIES[character]!);
