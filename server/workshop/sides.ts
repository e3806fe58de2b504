/** A workshop file in which a merge was left unfinished: the first side of it is read, and the markers are named once each. */
import type { Report } from './problem';

const MARKER = /^(<{7}|\|{7}|={7}|>{7})(?: .*)?$/;

/** The text with blanks for the marker lines and for all but the first side, so that every offset stays. */
export const firstSide = (text: string, report: Report): string => {
  if (!/^<{7}/m.test(text)) return text;
  let side: 'none' | 'first' | 'other' = 'none';
  return text.replace(/[^\r\n]+/g, (line, start: number) => {
    const marker = MARKER.exec(line)?.[1]?.[0];
    if (marker === '<' && side === 'none') {
      side = 'first';
      report.add('workshop-unreadable', { start, end: start + line.length }, () => ({ says: UNFINISHED }));
    } else if (marker && marker !== '<' && side !== 'none') side = marker === '>' ? 'none' : 'other';
    else if (side !== 'other') return line;
    return ' '.repeat(line.length);
  });
};

const UNFINISHED =
  'Two versions stand here side by side, and the first one counts until you choose. Keep one of them and take out the marker lines.';
