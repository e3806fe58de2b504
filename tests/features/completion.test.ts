/** What is offered at the cursor `‸`; the first few, in their order. */
import { describe, expect, test } from 'vitest';
import { completionsAt } from '../../server/features/completion';
import { parsePage } from '../../server/syntax/parse';
import { VERBS } from '../../server/vocabulary/verbs';
import { pageWorkspace } from '../support/workspace';

const SHOP = `scales:
  bench: 0.01 g
crucibles:
  C4: 400 mL
  C5: 650 mL
recipes:
  shop-flux: { borax-glass: 5 parts, silica: 2 parts }
parties:
  harbour-lab: lab
  high-fell: customer
`;

const BEFORE = `2026-05-04
receive TE-31 from high-fell
  205.71 g on bench
  expect Au 20 %
receive TE-32 from high-fell
  88.00 g on bench

melt M57, crucible C5
  in TE-31 205.71 g on bench
  add shop-flux 240 g
  out B57 52.36 g button on bench
  out 389.1 g slag

2026-05-05
`;

const offered = (written: string) => {
  const marked = BEFORE + written;
  const offset = marked.indexOf('‸');
  const page = marked.replace('‸', '');
  const { items, ofWords } = completionsAt(pageWorkspace(page, SHOP), 'page.melt', offset, '2026-05-05');
  return { items, ofWords, labels: items.map(({ label }) => label), page };
};

const first = (written: string, count: number): string[] => offered(written).labels.slice(0, count);

describe('lots', () => {
  test('on hand come first, the last spoken of at the top, with weight and fine metal', () => {
    const { items } = offered('cupel K1\n  in ‸');
    expect(items.slice(0, 3).map(({ label, detail }) => `${label}: ${detail}`)).toEqual([
      'B57: 52.36 g button, Au ~40 g',
      'M57.slag: 389.1 g slag, Au ~1.1 g',
      'TE-32: 88.00 g',
    ]);
    expect(items.find(({ label }) => label === 'TE-31')?.detail).toBe('used up');
  });

  test('on a page of an earlier day what was there on that day comes first', () => {
    const later = 'receive E1 5.00 g\n\n2026-05-09\nreceive Z1 3.00 g\n\n2026-05-07\nreceive L1 4.00 g\n';
    expect(first(`cupel K1\n  in ‸\n${later}`, 2)).toEqual(['E1', 'B57']);
    expect(offered(`cupel K1\n  in ‸\n${later}`).labels.slice(-4, -1)).toEqual(['L1', 'Z1', 'TE-31']);
    expect(first(`cupel K1\n\n${later}\n2026-05-10\ncupel K2\n  in ‸`, 3)).toEqual(['Z1', 'L1', 'E1']);
  });

  test('what is typed of a name is replaced by it', () => {
    const { items, page } = offered('cupel K1\n  in B5‸');
    const { replace } = items[0]!;
    expect(page.slice(replace.start, replace.end)).toBe('B5');
  });

  test('behind a part weighed out stands `of`', () => {
    expect(first('cupel K1\n  in 20 g of ‸', 1)).toEqual(['B57']);
  });
});

describe('names', () => {
  test('of the next step and of what it makes', () => {
    expect(first('melt ‸', 1)).toEqual(['M58']);
    expect(first('receive ‸', 1)).toEqual(['TE-33']);
    expect(first('melt M58\n  in TE-32\n  out ‸', 1)).toEqual(['B58']);
  });
});

describe('words', () => {
  test('at the margin: a day, prefixes, verbs; a verb brings its whole entry', () => {
    const { items, labels, ofWords } = offered('‸');
    expect(labels.slice(0, 2)).toEqual(['2026-05-05', 'plan']);
    expect(ofWords).toBe(true);
    expect(items.find(({ label }) => label === 'melt')?.text).toBe(
      [
        'melt $<1:M58>, crucible $<2:C5>',
        '\tin $<3:LOT> $<4:?> g on bench',
        '\tadd $<5:shop-flux> $<6:?> g',
        '\tout $<7:B58> $<8:?> g on bench button',
        '\tout $<9:?> g slag',
        '$0',
      ]
        .join('\n')
        .replaceAll('<', '{')
        .replaceAll('>', '}'),
    );
  });

  test('a verb brings its whole entry also when it is written out, and after one that was only begun', () => {
    const melt = (written: string) => offered(written).items.find(({ label }) => label === 'melt')?.text;
    expect(melt('melt‸')).toBe(melt('‸'));
    expect(melt('melt M58\n\nmelt‸')).toBe(melt('‸')?.replaceAll('58', '59'));
  });

  /** The fields as they are read: `melt ‹M58›`. */
  const template = (verb: string, written = '‸', page = BEFORE): string => {
    const workspace = pageWorkspace(page + written.replace('‸', ''), SHOP);
    const { items } = completionsAt(workspace, 'page.melt', (page + written).indexOf('‸'), '2026-05-05');
    const text = items.find(({ label, snippet }) => label === verb && snippet)?.text ?? '';
    return text.replaceAll(/\$\{\d+:([^}]*)\}/g, '‹$1›').replace('\n$0', '');
  };

  test('a verb brings what was said with it last: from whom, what, on which scale', () => {
    const page = `${BEFORE}receive TE-33 from high-fell\n  material black-sand\n  gross 80.00 g wet on bench, tare 12.00 g\n  expect Au 20 %\n  note a rusty tin, photo tin.jpg\n\n`;
    expect(template('receive', '‸', page)).toBe(
      [
        'receive ‹TE-34› from ‹high-fell›',
        '\tmaterial ‹black-sand›',
        '\tgross ‹?› g wet on bench, tare ‹?› g',
        '\texpect Au ‹?› %',
      ].join('\n'),
    );
    const assayed = `${BEFORE}assay B57 by fire at harbour-lab, corrected\n  Au 71.2 %  Ag 8.1 %\n\n`;
    expect(template('assay', '‸', assayed)).toBe(
      'assay ‹LOT› by ‹fire› at ‹harbour-lab›, corrected\n\tAu ‹?› %  Ag ‹?› %',
    );
  });

  test('each verb that was never used brings the lines of its example, nothing of whose is known', () => {
    expect(template('ship')).toBe('ship ‹NAME› to ‹PARTY›\n\tin ‹LOT› ‹?› g');
    expect(template('check-scale')).toBe('check-scale ‹SCALE› ‹?› g\n\treads ‹?› g');
    expect(template('relabel')).toBe('relabel ‹LOT› to ‹NAME›');
    for (const { word } of VERBS) {
      const text = template(word);
      expect(text).toMatch(/‹/);
      const filled = text
        .replaceAll('‹?›', '1')
        .replaceAll(/‹DATE›/g, '2026-05-01')
        .replaceAll(/[‹›]/g, '')
        .replaceAll('\t', '  ');
      const codes = parsePage('page.melt', `2026-05-05\n${filled}\n`).sections.flatMap(({ problems }) => problems);
      expect([word, ...codes.map(({ code }) => code)]).toEqual([word]);
    }
  });

  test('within an entry: details that fit it and are not there yet', () => {
    const { labels } = offered('melt M58, crucible C4\n  ‸');
    expect(labels).toContain('in');
    expect(labels).toContain('furnace');
    expect(labels).not.toContain('crucible');
    expect(labels).not.toContain('pays');
    expect(labels).toContain('note');
  });

  test('what an entry says already comes behind what it does not', () => {
    expect(first('receive TE-33\n  ‸', 1)).toEqual(['material']);
    expect(first('receive TE-33\n  material black-sand\n  ‸', 1)).toEqual(['bought']);
    expect(offered('receive TE-33\n  material black-sand\n  ‸').labels).toContain('material');
  });

  test('that close a slot: kinds, methods, materials, vessels, scales, parties', () => {
    expect(offered('melt M58\n  out B58 12 g ‸').labels).toContain('button');
    expect(first('assay B57 by ‸', 2)).toEqual(['fire', 'xrf']);
    expect(first('melt M58\n  add ‸', 1)).toEqual(['shop-flux']);
    expect(first('melt M58, crucible ‸', 2)).toEqual(['C4', 'C5']);
    expect(first('melt M58\n  in TE-32 88.00 g on ‸', 1)).toEqual(['bench']);
    expect(first('assay B57 by fire at ‸', 2)).toEqual(['harbour-lab', 'high-fell']);
  });

  test('behind a figure: units', () => {
    expect(first('melt M58\n  in TE-32 88.00 ‸', 1)).toEqual(['g']);
  });

  test('behind a figure that begins its line, and behind its unit: units, scales', () => {
    expect(first('receive TE-33\n  61.37 ‸', 1)).toEqual(['g']);
    expect(first('receive TE-33\n  61.37 g ‸', 1)).toEqual(['on bench']);
    expect(first('receive TE-33\n  gross 61.37 g on ‸', 1)).toEqual(['bench']);
    expect(first('melt M58\n  out B58 12.3 g button ‸', 1)).toEqual(['on bench']);
    expect(offered('melt M58\n  out B58 12.3 g button on bench ‸').labels).not.toContain('on bench');
  });

  test('behind what is sold or bought: the money and the rates of the record', () => {
    expect(first('quote Au 2480.00 USD/ozt\nquote Ag 29 ‸', 2)).toEqual(['USD/ozt']);
    expect(first('sell B57 to high-fell for 100 EUR\nsell TE-32 to high-fell for 30 ‸', 2)).toEqual(['EUR']);
    expect(first('receive TE-33\n  expect Au 20 ‸', 1)).toEqual(['%']);
  });

  test('in an assay: metals, the bench’s own first, then shares, then the next metal', () => {
    expect(first('assay B57 by xrf\n  ‸', 2)).toEqual(['Au', 'Ag']);
    expect(first('assay B57 by xrf\n  Au 91.2 ‸', 1)).toEqual(['%']);
    expect(first('assay B57 by xrf\n  Au 91.2 %  ‸', 2)).toEqual(['Au', 'Ag']);
    expect(first('quote ‸', 1)).toEqual(['Au']);
    expect(first('settle V1\n  ‸', 1)).toEqual(['received']);
    expect(offered('settle V1\n  ‸').labels).toContain('Au');
    expect(offered('melt M58\n  ‸').labels).not.toContain('Au');
  });

  test('behind a time: events', () => {
    expect(first('melt M58\n  10:20 ‸', 1)).toEqual(['charged']);
    expect(offered('melt M58\n  10:20 poured ‸').labels).toEqual([]);
  });

  test('materials: feeds for what a lot is, what stands on a shelf for what is added; those used before first', () => {
    expect(offered('receive TE-33\n  material ‸').labels.slice(1, 3)).toEqual(['scrap', 'lemel']);
    expect(first('receive TE-33\n  material sweeps\nreceive TE-34\n  material ‸', 2)).toEqual(['shop-flux', 'sweeps']);
    expect(first('melt M58\n  add lead 3 g\nmelt M59\n  add ‸', 2)).toEqual(['shop-flux', 'lead']);
  });

  test('what pages speak of, also where the workshop file does not have it', () => {
    expect(first('melt M58, furnace F1, hand AB\nmelt M59, furnace ‸', 1)).toEqual(['F1']);
    expect(first('melt M58, furnace F1, hand AB\nmelt M59, hand ‸', 1)).toEqual(['AB']);
    expect(first('receive X1 from new-fell\nreceive X2 from ‸', 3)).toEqual(['harbour-lab', 'high-fell', 'new-fell']);
    expect(offered('receive X2 from ne‸').labels).not.toContain('ne');
  });

  test('of an entry that goes on, is mended or taken back: names that there are, the latest first', () => {
    expect(first('more melt ‸', 1)).toEqual(['M57']);
    expect(first('void receive ‸', 2)).toEqual(['TE-32', 'TE-31']);
    expect(first('plan melt ‸', 1)).toEqual(['M58']);
    expect(offered('relabel B57 to ‸').labels).not.toContain('B57');
  });

  test('nothing in a comment, a remark, quotes', () => {
    for (const page of ['melt M58  # in ‸', 'melt M58\n  note all of ‸', 'melt M58\n  in "old ‸'])
      expect(offered(page).labels).toEqual([]);
  });
});

test('behind the name of an entry that is mended or taken back: the days on which one of that name stands', () => {
  expect(offered('void melt M57 ‸').labels).toContain('of 2026-05-04');
  expect(offered('correct receive TE-31 ‸').labels).toEqual(expect.arrayContaining(['from', 'of 2026-05-04']));
  expect(offered('melt M58 ‸').labels).not.toContain('of 2026-05-04');
  expect(offered('void melt M57 of 2026-05-04 ‸').labels).not.toContain('of 2026-05-04');
});
