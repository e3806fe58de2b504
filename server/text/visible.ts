/** Characters that hide or reorder text, shown as escapes: what a name or a line holds is seen, and none of it acts on a terminal. */

/** Zero-width and joining characters, and those that turn the direction of writing (Trojan Source, CVE-2021-42574). */
const HIDING: ReadonlySet<number> = new Set([0x061c, 0x2028, 0x2029, 0xfeff, 0x00ad, 0x180e]);

const isHiding = (code: number): boolean =>
  HIDING.has(code) ||
  (code >= 0x200b && code <= 0x200f) ||
  (code >= 0x202a && code <= 0x202e) ||
  (code >= 0x2060 && code <= 0x206f);

const isControl = (code: number): boolean => (code < 0x20 && code !== 0x09) || (code >= 0x7f && code <= 0x9f);

/** The first that `visible` would show as an escape. */
export const firstHidden = (text: string): string | undefined =>
  [...text].find((character) => visible(character) !== character);

/** The text with every control and hidden character, but for the tab, as `\u{200b}`. */
export const visible = (text: string): string => {
  let shown = '';
  for (const character of text) {
    const code = character.codePointAt(0)!;
    const lone = code >= 0xd800 && code <= 0xdfff;
    shown += isControl(code) || isHiding(code) || lone ? `\\u{${code.toString(16)}}` : character;
  }
  return shown;
};
