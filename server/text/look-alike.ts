/**
 * Letters of other scripts that look like Latin ones: two names may look the same and differ. Those of Greek and Cyrillic whose shape is a Latin
 * letter's in common typefaces (a part of the list `confusables.txt` of Unicode Technical Standard 39; from memory).
 */
const LOOK_ALIKES = new Map(
  Object.entries({
    A: '\u0391\u0410',
    B: '\u0392\u0412',
    C: '\u0421\u03f9',
    E: '\u0395\u0415',
    H: '\u0397\u041d',
    I: '\u0399\u0406',
    J: '\u0408',
    K: '\u039a\u041a',
    M: '\u039c\u041c',
    N: '\u039d',
    O: '\u039f\u041e',
    P: '\u03a1\u0420',
    S: '\u0405',
    T: '\u03a4\u0422',
    X: '\u03a7\u0425',
    Y: '\u03a5\u04ae',
    Z: '\u0396',
    a: '\u0430',
    c: '\u0441',
    e: '\u0435',
    i: '\u0456',
    j: '\u0458',
    o: '\u03bf\u043e',
    p: '\u03c1\u0440',
    s: '\u0455',
    x: '\u0445',
    y: '\u0443',
  }).flatMap(([latin, others]) => [...others].map((other) => [other, latin] as const)),
);

/** Width forms and the like are the letter that they are a form of. */
const latinOf = (letter: string): string => LOOK_ALIKES.get(letter) ?? letter.normalize('NFKC');

/** The name in the letters that it looks to be written in. */
export const asItLooks = (name: string): string => (isAscii(name) ? name : [...name].map(latinOf).join(''));

const isAscii = (text: string): boolean => {
  for (let at = 0; at < text.length; at++) if (text.charCodeAt(at) > 127) return false;
  return true;
};

/** The first letter of a name that looks like another, which is the other name's at the same place; undefined where they do not look the same. */
export const strangerIn = (
  name: string,
  other: string,
): { readonly letter: string; readonly like: string } | undefined => {
  if (name === other || asItLooks(name) !== asItLooks(other)) return undefined;
  const [own, others] = [[...name], [...other]];
  const at = own.findIndex((letter, place) => letter !== others[place]);
  return at < 0 || others[at] === undefined ? undefined : { letter: own[at]!, like: others[at] };
};
