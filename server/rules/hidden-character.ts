/** A character that cannot be seen. */
import { formRule } from './rule';

export const hiddenCharacter = formRule({
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

export const codePoint = (character: string): string =>
  `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
