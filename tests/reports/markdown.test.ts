/** Text of a journal within Markdown, and what is left of it for a client that shows plain text. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { escapeMarkdown, fenced, paragraphs, plainOf } from '../../server/reports/markdown';
import { visible } from '../../server/text/visible';

/** Two blanks at the end of a line are a break in Markdown; a tab is a blank to it. */
const line = fc.string({ unit: 'binary', maxLength: 60 }).filter((text) => !/[\n\r]|[ \t]{2}$/.test(visible(text)));

test('plain text of what was quoted is what was written', () => {
  fc.assert(
    fc.property(line, (text) => {
      expect(plainOf(escapeMarkdown(text))).toBe(visible(text).replaceAll('\t', ' '));
    }),
  );
});

test('plain text of fenced lines is the lines', () => {
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 4 }), (lines) => {
      expect(plainOf(fenced(lines))).toBe(lines.map(visible).join('\n'));
    }),
  );
});

test('marks go and words stay', () => {
  const markdown = paragraphs('**D\\_12** · one of \\*all\\*  \nwritten `in A\\_1`', fenced(['in  **12** g']));
  expect(plainOf(markdown)).toBe('D_12 · one of *all*\nwritten in A\\_1\n\nin  **12** g');
});
