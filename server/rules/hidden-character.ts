/** A character that cannot be seen. */
import type { JournalPage } from '../journal/page';
import { placeIn } from '../text/place';
import { firstHidden, visible } from '../text/visible';
import { formRule, type Match, type Rule } from './rule';

const inText = formRule({
  code: 'hidden-character',
  severity: 'error',
  atOnce: true,
  title: 'a character that cannot be seen',
  why: 'Two names that look alike may differ in a character that is not shown. Such a character has no place in a name or a figure.',
  wrong: '2026-05-04\nreceive A \u200b20.00 g',
  right: '2026-05-04\nreceive A 20.00 g',
  says: (problem) => `A hidden character, ${codePoint(problem.found)}, stands here.`,
  fix: () => 'Take it out',
});

/** In the text, or in the name of the page. */
export const hiddenCharacter: Rule = {
  ...inText,
  page: function* ({ file, page: { sections } }: JournalPage): Iterable<Match> {
    const name = file.slice(file.lastIndexOf('/') + 1);
    const found = firstHidden(name);
    const [first] = sections;
    if (found === undefined || !first) return;
    yield {
      place: placeIn(first, { start: 0, end: 1 }),
      says: `The name of this page, ${visible(name)}, holds a hidden character, ${codePoint(found)}. Give the file another name.`,
    };
  },
};

export const codePoint = (character: string): string =>
  `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
