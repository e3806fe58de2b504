/** `fineweight attributes`: how git is to treat a journal's files. */
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { visible } from '../text/visible';
import type { Outcome } from './check';
import { shortPath } from './journals';
import { refuseToLeave, writeNewFile } from './write';

/**
 * A paper or photo may have any name, and a seal holds every byte of it: so git changes the line ends of nothing but pages, whatever a clone has set.
 * The first line stands above the others: of two that fit a file git takes the lower one.
 */
const LINES: readonly string[] = [
  '* -text',
  '*.melt text eol=lf merge=fineweight diff=fineweight',
  'workshop.yaml text eol=lf merge=fineweight',
];

const COMMANDS = `In each clone, once, so that git knows the two names:
  git config merge.fineweight.name "melt pages by day and entry, workshop files by thing"
  git config merge.fineweight.driver "fineweight merge %O %A %B %P"
  git config diff.fineweight.textconv "fineweight textconv"
  git config diff.fineweight.xfuncname "^([a-z0-9].*)$"
`;

/** Makes the file where there is none; else says which lines it lacks, and changes nothing. */
export const attributes = (folder: string): Outcome => {
  const path = join(resolve(folder), '.gitattributes');
  refuseToLeave(process.cwd(), path);
  if (!existsSync(path)) {
    writeNewFile(resolve(folder), path, `${LINES.join('\n')}\n`);
    return { text: `Written: ${visible(shortPath(path))}\n${COMMANDS}`, exit: 0 };
  }
  const had = new Set(
    readFileSync(path, 'utf8')
      .split(/\r?\n/)
      .map((line) => line.trim().replace(/\s+/g, ' ')),
  );
  const lacking = LINES.filter((line) => !had.has(line));
  if (lacking.length === 0) return { text: `${visible(shortPath(path))} has all lines.\n${COMMANDS}`, exit: 0 };
  const order = lacking[0] === LINES[0] ? ' The first goes above all other lines:' : '';
  const shown = lacking.map((line) => `  + ${line}\n`).join('');
  return {
    text: `${visible(shortPath(path))} is there, and is not changed. It lacks:${order}\n${shown}${COMMANDS}`,
    exit: 1,
  };
};
