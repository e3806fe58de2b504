/** What changed between two versions of a journal, as text. */
import { visible } from '../text/visible';
import type { Change, Part } from './difference';

/** Colour, where there is any. */
type Paint = (style: 'bold' | 'red' | 'green', text: string) => string;

const PARTS: readonly (readonly [Part, string])[] = [
  ['entries', 'Written'],
  ['workshop', 'Workshop file'],
  ['balances', 'Balances'],
  ['lots', 'Lots as they were made'],
  ['on hand', 'On hand'],
  ['findings', 'Findings'],
];

export const changesText = (changes: readonly Change[], paint: Paint): string => {
  if (changes.length === 0) return 'Nothing changed but spacing.\n';
  return PARTS.flatMap(([part, title]) => {
    const own = changes.filter((change) => change.part === part);
    return own.length === 0 ? [] : [paint('bold', title), ...linesOf(own, paint), ''];
  }).join('\n');
};

/** What belongs to one thing stands under its name. */
const linesOf = (changes: readonly Change[], paint: Paint): readonly string[] => {
  const lines: string[] = [];
  let last: string | undefined;
  for (const { part, what, was, now } of changes) {
    const name = visible(what);
    if (part === 'findings')
      lines.push(now === undefined ? paint('green', `  gone  ${name}`) : paint('red', `  new   ${name}`));
    else if (part === 'entries' && now === 'new' && was === undefined) lines.push(paint('green', `  + ${name}`));
    else if (part === 'entries' && was === 'there' && now === undefined) lines.push(paint('red', `  - ${name}`));
    else {
      if (what !== last) lines.push(`  ${name}`);
      if (was !== undefined) lines.push(paint('red', `    - ${visible(was)}`));
      if (now !== undefined) lines.push(paint('green', `    + ${visible(now)}`));
    }
    last = what;
  }
  return lines;
};
