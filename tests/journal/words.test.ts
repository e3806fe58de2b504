/** A page's words, found without reading it: no name that the page speaks of is missed. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readPage } from '../../server/journal/page';
import { parsePage } from '../../server/syntax/parse';
import { mayHold, soughtFor, wordsIn } from '../../server/syntax/words';
import { makeJournal } from '../support/journal';

const SAMPLES = resolve(__dirname, '../../samples');

const namesOf = (text: string): readonly string[] => {
  const { byLot, byStep, byMaterial, mentions } = readPage(parsePage('page.melt', text));
  return [...byLot.keys(), ...byStep.keys(), ...byMaterial.keys(), ...mentions.flatMap((names) => [...names])];
};

const missed = (text: string): string[] => {
  const words = wordsIn(text);
  return namesOf(text).filter((name) => !mayHold(words, soughtFor(name)));
};

describe('the words of a page', () => {
  it('hold every name of the samples and of a made journal', () => {
    const pages = readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.melt'));
    const texts = [...pages.map((name) => readFileSync(join(SAMPLES, name), 'utf8')), ...makeJournal(2000, 2).values()];
    expect(texts.flatMap(namesOf).length).toBeGreaterThan(300);
    expect(texts.flatMap(missed)).toEqual([]);
  });

  it('hold every name of any page', () => {
    const bits = fc.constantFrom(
      ...[
        'in ',
        'out ',
        'add ',
        'melt ',
        'receive ',
        'relabel ',
        ' to ',
        'slag',
        'M57',
        'B57d',
        '"old bag"',
        '"7"',
        '.',
        '..',
      ],
      ...[
        '-',
        '/',
        '5',
        '61,37',
        '14k',
        '08:10',
        '2026-05-04',
        ' ',
        '\n',
        '\n  ',
        '\r\n',
        '\t',
        ',',
        '\u200b',
        '\u00e9',
        '\u{1d7d8}',
        '#',
        '<<<<<<< a\n',
      ],
    );
    const page = fc.array(bits, { maxLength: 40 }).map((some) => some.join(''));
    fc.assert(
      fc.property(page, (text) => {
        expect(missed(text)).toEqual([]);
      }),
      { numRuns: 3000, seed: 20261125 },
    );
  });

  it('hold a name glued to a figure with a comma, or to a time', () => {
    expect(missed('melt 61,372026-05-04in ')).toEqual([]);
    expect(missed('melt M1\n  in 08:10-2026-05-04in')).toEqual([]);
  });

  it('tell pages apart', () => {
    const words = wordsIn('melt M57\n  in B57d 20.00 g\n');
    expect(mayHold(words, soughtFor('B57d'))).toBe(true);
    expect(mayHold(words, soughtFor('M57.slag'))).toBe(true);
    expect(mayHold(words, soughtFor('B57'))).toBe(false);
    expect(mayHold(words, soughtFor('old bag'))).toBe(false);
  });
});
