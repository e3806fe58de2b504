/** A name as it is to be written in a page. */
import { parsePage } from '../syntax/parse';
import type { Section } from '../syntax/tree';

/** In quotes where it would read as something else; undefined where it cannot be a name. */
export const asWritten = (name: string): string | undefined => {
  if (name === '' || /["\n\r\t]/.test(name)) return undefined;
  const isPlain = (text: string): boolean => {
    const [section] = parsePage('name', `receive ${text}\n`).sections;
    return section !== undefined && section.problems.length === 0 && isNamed(section, name);
  };
  return [name, `"${name}"`].find(isPlain);
};

const isNamed = ({ lines }: Section, name: string): boolean => {
  const [value] = lines[0]?.pieces[0]?.values ?? [];
  return value?.shape === 'word' && value.word.text === name;
};
