/** A document as Markdown: headings, lists and tables that any reader of it knows; all text of the journal is quoted. */
import { escapeMarkdown } from '../../reports/markdown';
import type { Place } from '../../text/place';
import { visible } from '../../text/visible';
import { type Block, type Cell, type Column, type Document, type Row, type Sentence, spansOf } from '../model';
import { type Format, footOf, type Setting, whereWords } from './format';

export const markdown: Format = (document, setting) => {
  const parts = [
    `# ${escapeMarkdown(document.title)}`,
    headingOf(setting),
    factsOf(document, setting),
    ...document.sections.flatMap(({ title, blocks }) => [
      `## ${escapeMarkdown(title)}`,
      ...blocks.map((block) => blockOf(block, setting)),
    ]),
    '---',
    ...footOf(setting).map(escapeMarkdown),
  ];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
};

const headingOf = ({ heading, address }: Setting): string =>
  [heading, address].flatMap((one) => (one ? [escapeMarkdown(one)] : [])).join(' · ');

const factsOf = ({ facts }: Document, setting: Setting): string =>
  facts
    .map(({ label, cell, place }) => `- ${escapeMarkdown(label)}: ${cellText(cell)}${linkAfter(place, setting)}`)
    .join('\n');

const blockOf = (block: Block, setting: Setting): string => {
  switch (block.form) {
    case 'sentences':
      return block.sentences.map((one) => sentence(one, setting)).join('\n');
    case 'picture':
      return escapeMarkdown(block.says);
    case 'table':
      return tableOf(block.columns, block.rows, setting);
  }
};

const sentence = (of: Sentence, setting: Setting): string => {
  const told = spansOf(of).map(({ text, code }, at) =>
    code
      ? `\`${visible(text)}\``
      : text
          .split('\n')
          .map((line, row) => (at > 0 && row === 0 ? escapedWithin(line) : escapeMarkdown(line)))
          .join('  \n  '),
  );
  return `- ${told.join('')}${linkAfter(of.place, setting)}`;
};

/** What goes on in a line begins no heading and no list. */
const escapedWithin = (text: string): string => escapeMarkdown(`x${text}`).slice(1);

const tableOf = (columns: readonly Column[], rows: readonly Row[], setting: Setting): string => {
  const hasPlaces = rows.some(({ place }) => place);
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [
    line([...columns.map(({ head }) => escapeMarkdown(head)), ...(hasPlaces ? ['line'] : [])]),
    line([...columns.map(({ right }) => (right ? '-:' : '-')), ...(hasPlaces ? ['-'] : [])]),
    ...rows.map(({ cells, place, total, depth }) =>
      line([
        ...cells.map((cell, at) => ranked(cellText(cell), total, at === 0 ? depth : 0)),
        ...(hasPlaces ? [place ? link(place, setting) : ''] : []),
      ]),
    ),
  ].join('\n');
};

/** A part is indented with blanks that a table keeps; a total is strong. */
const ranked = (text: string, total: Row['total'], depth = 0): string =>
  text === '' ? text : `${'\u2003'.repeat(depth)}${total ? `**${text}**` : text}`;

const cellText = ({ text, ground }: Cell): string => {
  const shown = escapeMarkdown(text.replaceAll('\n', ' '));
  return ground && text !== '' ? `${shown} _${escapeMarkdown(ground)}_` : shown;
};

const linkAfter = (place: Place | undefined, setting: Setting): string => (place ? ` (${link(place, setting)})` : '');

const link = (place: Place, setting: Setting): string => {
  const where = setting.where(place);
  const address = setting.link(where);
  const words = escapeMarkdown(whereWords(where));
  return address === undefined ? words : `[${words}](${address.replaceAll('(', '%28').replaceAll(')', '%29')})`;
};
