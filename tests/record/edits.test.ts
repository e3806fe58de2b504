/** Every change of a sealed record's content is found; of its layout none is said anything. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { isMap, isScalar, parseDocument } from 'yaml';
import { formatEdits } from '../../server/features/format';
import { recordOf } from '../../server/record/breaks';
import { draftOf, draftText } from '../../server/record/draft';
import { findingsOf } from '../../server/rules/findings';
import { withProofs, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { type Random, seeded } from '../support/random';
import { workspaceOf } from '../support/workspace';

const SAMPLE = resolve(__dirname, '../../samples/tarn-end');
const NAMES = ['2026-05.melt', '2026-06.melt', 'high-fell.melt', 'workshop.yaml'];
const PROOFS = new Map(
  ['rt-5.jpg', 'harbour-1162.pdf', 'harbour-1188.pdf'].map((path) => [path, `sha256-${'0'.repeat(64)}`]),
);

type Pages = Readonly<Record<string, string>>;

const journalOf = (pages: Pages): Workspace => withProofs(workspaceOf(pages), PROOFS);

const sealed = (pages: Pages, upTo: string): Pages => {
  const draft = draftOf(journalOf(pages), upTo);
  if (draft.kind !== 'ready') throw new Error(draft.kind);
  return { ...pages, [`seal-${upTo}.melt`]: `${upTo}\n\n${draftText(upTo, draft)}\n` };
};

const OPEN = Object.fromEntries(NAMES.map((name) => [name, readFileSync(join(SAMPLE, name), 'utf8')]));
const SEALED = sealed(sealed(OPEN, '2026-05-31'), '2026-06-30');
const OURS = ['2026-05.melt', '2026-06.melt', 'high-fell.melt'];

const STANDING = journalOf(SEALED);

const kindsIn = (workspace: Workspace): string[] =>
  [...recordOf(workspace).breaks.values()].flat().map(({ kind }) => kind);

/** As an editor sees it: of a journal that is open, some files read otherwise. */
const breaksIn = (pages: Pages): string[] =>
  kindsIn(withTexts(STANDING, new Map(Object.entries(pages).filter(([name, text]) => SEALED[name] !== text))));

/** Lines that say something: not a comment, not empty. */
const saying = (lines: readonly string[]): number[] =>
  lines.flatMap((line, index) => (line.replace(/(^|\s)#(\s.*)?$/, '').trim() === '' ? [] : [index]));

const withoutComment = (line: string): string => line.replace(/(^|\s)#(\s.*)?$/, '');

interface Edit {
  readonly name: string;
  readonly apply: (text: string, random: Random) => string;
}

const onLine =
  (change: (line: string, random: Random) => string) =>
  (text: string, random: Random): string => {
    const lines = text.split('\n');
    const at = random.pick(saying(lines));
    lines[at] = change(lines[at]!, random);
    return lines.join('\n');
  };

const other = (character: string, random: Random): string => {
  for (;;) {
    const one = random.pick([...'0123456789abcxyzQRS']);
    if (one !== character && one.toLowerCase() !== character.toLowerCase()) return one;
  }
};

const CONTENT: readonly Edit[] = [
  {
    name: 'another letter or figure',
    apply: onLine((line, random) => {
      const places = [...withoutComment(line)].flatMap((character, at) => (/[\p{L}\d]/u.test(character) ? [at] : []));
      const at = random.pick(places);
      return line.slice(0, at) + other(line[at]!, random) + line.slice(at + 1);
    }),
  },
  {
    name: 'a word taken out',
    apply: onLine((line, random) => {
      const words = [...withoutComment(line).matchAll(/\S+/g)];
      const word = random.pick(words);
      return line.slice(0, word.index) + line.slice(word.index + word[0].length);
    }),
  },
  { name: 'a word put in', apply: onLine((line) => `${withoutComment(line)} now`) },
  {
    name: 'a line taken out',
    apply: (text, random) => {
      const lines = text.split('\n');
      lines.splice(random.pick(saying(lines)), 1);
      return lines.join('\n');
    },
  },
  {
    name: 'a detail put in',
    apply: (text, random) => {
      const lines = text.split('\n');
      lines.splice(random.pick(saying(lines).filter((at) => /^\s/.test(lines[at]!))), 0, '  keep');
      return lines.join('\n');
    },
  },
  {
    name: 'an entry put in',
    apply: (text, random) => {
      const lines = text.split('\n');
      lines.splice(random.pick(saying(lines).filter((at) => /^[a-z]/.test(lines[at]!))), 0, 'note one more');
      return lines.join('\n');
    },
  },
  {
    name: 'two lines of an entry swapped',
    apply: (text, random) => {
      const lines = text.split('\n');
      const indented = (at: number): boolean => /^\s+\S/.test(lines[at] ?? '') && !/^\s+#/.test(lines[at] ?? '');
      const pairs = lines.flatMap((line, at) =>
        indented(at) && indented(at + 1) && withoutComment(line).trim() !== withoutComment(lines[at + 1]!).trim()
          ? [at]
          : [],
      );
      const at = random.pick(pairs);
      [lines[at], lines[at + 1]] = [lines[at + 1]!, lines[at]!];
      return lines.join('\n');
    },
  },
];

const LAYOUT: readonly Edit[] = [
  { name: 'wider blanks', apply: onLine((line) => line.replace(/(?<=\S) (?=\S)/g, '   ')) },
  { name: 'a tab for a blank', apply: onLine((line) => line.replace(/(?<=\S) (?=\S)/, '\t')) },
  { name: 'blanks behind', apply: onLine((line) => `${line}  `) },
  { name: 'a comment behind', apply: onLine((line) => `${line}  # looked at again`) },
  { name: 'a deeper indent', apply: (text) => text.replace(/^ {2}(?=\S)/gm, '\t    ') },
  { name: 'line ends of Windows', apply: (text) => text.replaceAll('\n', '\r\n') },
  { name: 'a mark at the start', apply: (text) => `\ufeff${text}` },
  { name: 'a blank before a comma', apply: onLine((line) => line.replace(/,/g, ' ,')) },
  {
    name: 'an empty line',
    apply: (text, random) => {
      const lines = text.split('\n');
      lines.splice(random.pick(saying(lines)), 0, '');
      return lines.join('\n');
    },
  },
  {
    name: 'capitals at the margin',
    apply: (text) => text.replace(/^(receive|melt|cast|cupel|assay|dry|part)\b/gm, (word) => word.toUpperCase()),
  },
  { name: 'a plan', apply: (text) => `${text}\n2026-05-06\nplan melt LATER\n  in NOTHING\n` },
];

const applied = (edit: Edit, random: Random): { pages: Pages; file: string } => {
  const file = random.pick(OURS);
  return { pages: { ...SEALED, [file]: edit.apply(SEALED[file]!, random) }, file };
};

describe('a thousand edits of a sealed journal', () => {
  it('are found where they change what it says, and only there', () => {
    const random = seeded(20260601);
    let [content, layout] = [0, 0];
    for (let round = 0; round < 1000; round++) {
      const isContent = round % 2 === 0;
      const edit = random.pick(isContent ? CONTENT : LAYOUT);
      const { pages, file } = applied(edit, random);
      const found = breaksIn(pages);
      const what = `${edit.name} in ${file}, round ${round}: ${found}`;
      if (isContent) expect(found.length, what).toBeGreaterThan(0);
      else expect(found, what).toEqual([]);
      if (round % 50 < 2) expect(kindsIn(journalOf(pages)), `read anew, ${what}`).toEqual(found);
      if (isContent) content++;
      else layout++;
    }
    console.log(`of ${content} edits of content all were found, of ${layout} edits of layout none was`);
  });

  it('and a day may stand on another page, and all be formatted', () => {
    const may = SEALED['2026-05.melt']!;
    const cut = may.search(/^2026-05-1/m);
    const [first, rest] = [may.slice(0, cut), may.slice(cut)];
    const moved: Pages = { ...SEALED, '2026-05.melt': rest, 'early-may.melt': first };
    expect(breaksIn(moved)).toEqual([]);
    const ragged = Object.fromEntries(
      Object.entries(SEALED).map(([name, text]) => [
        name,
        name.endsWith('.melt') ? text.replace(/^ {2}/gm, '\t') : text,
      ]),
    );
    const formatted = Object.fromEntries(
      [...journalOf(ragged).pages].map(([name, page]) => {
        let text = page.page.text;
        for (const edit of formatEdits(page).toReversed())
          text = text.slice(0, edit.start) + edit.text + text.slice(edit.end);
        return [name, text];
      }),
    );
    expect(breaksIn({ ...SEALED, ...formatted })).toEqual([]);
  });

  it('and a page may be called otherwise, where one day stands on two', () => {
    const day = (entries: string): string => `2026-05-04\n${entries}`;
    const pages = {
      'bench.melt': day(
        'receive A 20 g\nreceive B 21 g\nmelt M1\n  09:40 charged\n  in A 20 g\n  out C 19.9 g bar\nnote one',
      ),
      'yard.melt': day('receive D 22 g\nreceive E 23 g\nnote two'),
      'attic.melt': day('receive F 24 g'),
    };
    const { 'seal-2026-05-31.melt': seal, ...rest } = sealed(pages, '2026-05-31');
    const read = (other: Pages): string[] => kindsIn(journalOf({ ...other, 'seal.melt': seal! }));
    const { 'bench.melt': bench, 'yard.melt': yard, 'attic.melt': attic } = pages;
    for (const [one, two, three] of ['abc', 'acb', 'bac', 'bca', 'cab', 'cba']) {
      const named = { [`${one}.melt`]: bench, [`${two}.melt`]: yard, [`${three}.melt`]: attic };
      expect(read(named)).toEqual([]);
      // What changed is still told by itself.
      expect(read({ ...named, [`${two}.melt`]: yard.replace('22 g', '22.5 g') })).toEqual(['changed']);
      expect(read({ ...named, [`${one}.melt`]: bench.replace('receive B 21 g\n', '') })).toEqual(['vanished']);
      expect(read({ ...named, [`${three}.melt`]: `${attic}\nreceive G 1 g` })).toEqual(['appeared']);
      const swapped = bench.replace('receive A 20 g\nreceive B 21 g', 'receive B 21 g\nreceive A 20 g');
      expect(read({ ...named, [`${one}.melt`]: swapped })).not.toEqual([]);
    }
    // An entry may go to another page of its day, too.
    expect(read({ ...rest, 'attic.melt': `${attic}\nnote two`, 'yard.melt': yard.replace('\nnote two', '') })).toEqual(
      [],
    );
  });

  it('and a page be moved together with its photo', () => {
    const page = '2026-05-04\nreceive A 20 g\n  photo scales/a.jpg\n  paper slip.csv';
    const [a, slip] = ['a', 'b'].map((of) => `sha256-${of.repeat(64)}`);
    const files = new Map([
      ['scales/a.jpg', a!],
      ['slip.csv', slip!],
    ]);
    const draft = draftOf(withProofs(workspaceOf({ 'may.melt': page }), files), '2026-05-31');
    if (draft.kind !== 'ready') throw new Error(draft.kind);
    const seal = `2026-05-31\n${draftText('2026-05-31', draft)}\n`;
    const moved = (proofs: ReadonlyMap<string, string | null>): string[] => {
      const workspace = withProofs(workspaceOf({ 'test/2026/may.melt': page, 'test/seal.melt': seal }), proofs);
      return [...workspace.pages.keys()].flatMap((file) =>
        findingsOf(workspace, file).map(({ code, says }) => `${code} ${says}`),
      );
    };
    expect(
      moved(
        new Map([
          ['2026/scales/a.jpg', a!],
          ['2026/slip.csv', slip!],
        ]),
      ),
    ).toEqual([]);
    expect(
      moved(
        new Map([
          ['2026/scales/a.jpg', slip!],
          ['2026/slip.csv', slip!],
        ]),
      ),
    ).toEqual(['file-changed scales/a.jpg is not the file that was sealed up to 2026-05-31. Put that one back.']);
    expect(
      moved(
        new Map([
          ['2026/scales/a.jpg', a!],
          ['2026/slip.csv', null],
        ]),
      ),
    ).toEqual([
      'file-changed slip.csv is gone, which was sealed up to 2026-05-31: it does not lie beside this page. Put it back there; a page that is moved takes its files along.',
    ]);
  });

  it('and pages of two folders be moved at once with photos of one name, each of which is still there', () => {
    const page = (lot: string): string => `2026-05-04\nreceive ${lot} 20 g\n  photo scale.jpg`;
    const [one, two] = ['a', 'b'].map((of) => `sha256-${of.repeat(64)}`) as [string, string];
    const before = { 'test/x/may.melt': page('A'), 'test/y/may.melt': page('B') };
    const draft = draftOf(
      withProofs(
        workspaceOf(before),
        new Map([
          ['x/scale.jpg', one],
          ['y/scale.jpg', two],
        ]),
      ),
      '2026-05-31',
    );
    if (draft.kind !== 'ready') throw new Error(draft.kind);
    const seal = `2026-05-31\n${draftText('2026-05-31', draft)}\n`;
    const says = (c: string | null, d: string | null): string[] => {
      const pages = { 'test/c/may.melt': page('A'), 'test/d/may.melt': page('B'), 'test/seal.melt': seal };
      const proofs = new Map([
        ['c/scale.jpg', c],
        ['d/scale.jpg', d],
      ]);
      const workspace = withProofs(workspaceOf(pages), proofs);
      return [...workspace.pages.keys()].flatMap((file) =>
        findingsOf(workspace, file).map(({ code, says: words }) => `${file} ${code} ${words}`),
      );
    };
    const other = 'scale.jpg is not the file that was sealed up to 2026-05-31. Put that one back.';
    expect(says(one, two)).toEqual([]);
    // One in both places: the other is lost.
    expect(says(one, one)).toEqual([`test/d/may.melt file-changed ${other}`]);
    expect(says(two, two)).toEqual([`test/d/may.melt file-changed ${other}`]);
    expect(says(null, two)).toEqual([
      'test/c/may.melt file-changed scale.jpg is gone, which was sealed up to 2026-05-31: it does not lie beside this page. Put it back there; a page that is moved takes its files along.',
    ]);
  });

  it('and blame no entry where the marks of a seal were changed', () => {
    for (const from of [
      /(marks 2026-05-\d\d )\w/,
      /(marks workshop )\w/,
      /(marks before )\w/,
      / {2}marks 2026-06-.*\n/,
    ]) {
      const name = Object.keys(SEALED).findLast((one) => one.startsWith('seal-') && from.test(SEALED[one]!))!;
      const text = SEALED[name]!.replace(from, (_, head: unknown) => (typeof head === 'string' ? `${head}x` : ''));
      expect(text).not.toBe(SEALED[name]);
      expect(kindsIn(journalOf({ ...SEALED, [name]: text })), `${from}`).toEqual(['marks']);
    }
  });

  it('and the words of the language stand in capitals', () => {
    const page =
      '2026-05-04\nreceive A gross 20.00 g wet on bench from beck-side, owner beck-side, note on the wet side\nmelt M1\n  in 2 g of A was 3 g ±0.1 g standard, tare tray\n  out none slag\n  out B 1.9 g button, keep\nassay B by fire at lab, Au 91 %\n';
    const closed = sealed({ 'may.melt': page }, '2026-05-31');
    const read = (other: string): string[] => kindsIn(journalOf({ ...closed, 'may.melt': other }));
    const words = [
      'receive',
      'gross',
      'wet',
      'on',
      'from',
      'owner',
      'note',
      'melt',
      'in',
      'of',
      'was',
      'standard',
      'tare',
      'out',
      'none',
      'slag',
      'button',
      'keep',
      'assay',
      'by',
      'fire',
      'at',
    ];
    for (const word of words)
      expect(read(page.replace(new RegExp(`\\b${word}\\b`), word.toUpperCase())), word).toEqual([]);
    for (const name of ['A', 'bench', 'beck-side', 'tray', 'lab', 'Au', 'M1'])
      expect(
        read(
          page.replace(new RegExp(`\\b${name}\\b`), (it) =>
            it === it.toUpperCase() ? it.toLowerCase() : it.toUpperCase(),
          ),
        ),
        name,
      ).not.toEqual([]);
    expect(read(page.replace('note on the wet', 'note ON the wet'))).not.toEqual([]);
  });

  it('the workshop file among them', () => {
    const shop = SEALED['workshop.yaml']!;
    const changed = (from: string | RegExp, to: string): string[] => {
      const text = shop.replace(from, to);
      expect(text).not.toBe(shop);
      return breaksIn({ ...SEALED, 'workshop.yaml': text });
    };
    expect(changed(/0\.01 g/, '0.02 g')).not.toEqual([]);
    expect(changed(/^scales:\n/m, 'scales:\n  new-scale: 0.1 g\n')).toEqual([]);
    expect(changed(/$/, '\n# a remark\n')).toEqual([]);
  });

  it('and a thing that is new there, whatever sealed entries call so', () => {
    const page = [
      '2026-05-04  hot, with the new-pot in the yard',
      'receive A 20.00 g on bench from beck-side, note weighed beside new-scale',
      'melt M1, crucible C1, at new-pot',
      '  in A 20.00 g',
      '  add flux 5 g',
      '  add spoon',
      '  11:20 stirred with new-rod, C2 cracked',
      '  11:30 poured into M2',
      '  out C3 19.90 g button',
      'note AB looked in, sold by tarn-end',
    ].join('\n');
    const shop = 'scales:\n  bench: 0.01 g\ncrucibles:\n  C1: 60 mL\n';
    const closed = sealed({ 'may.melt': page, 'workshop.yaml': shop }, '2026-05-31');
    const withMore = (more: string): string[] => kindsIn(journalOf({ ...closed, 'workshop.yaml': `${shop}${more}` }));
    for (const free of [
      '  new-pot: 90 mL\n  C2: 90 mL\n  C3: 90 mL\n  M1: 90 mL\n',
      'scales: { new-scale: 0.1 g }\n',
      'containers: { A: 21 g, new-rod: 3 g, bench: 4 g }\n',
      'materials: { A: borax-glass, bench: silica }\n',
      'parties: { tarn-end: own, new-pot: lab }\n',
      'hands: { AB: A. Beck }\n',
      'measures: { flux: 3 g, spoon: 14 g }\n',
      'recipes: { M1: { borax-glass: 1 part } }\n',
    ])
      expect(withMore(free), free).toEqual([]);
    // What they do rest on was not in the file when it was sealed: now it changes what they say.
    for (const used of [
      'moulds: { M2: 90 mL }\n',
      'recipes: { flux: { silica: 1 part } }\n',
      'parties: { beck-side: own }\n',
    ])
      expect(withMore(used), used).toEqual(['workshop']);
  });

  it('each value of the workshop file that sealed entries rest on, and no other', () => {
    const shop = SEALED['workshop.yaml']!;
    const { isInForce, leaves } = shopByHand(shop);
    let [inForce, outside] = [0, 0];
    for (const { section, name, key, start, end } of leaves) {
      const value = shop.slice(start, end);
      const other = /\d/.test(value) ? value.replace(/\d/, (digit) => `${(Number(digit) % 9) + 1}`) : `${value}x`;
      const found = breaksIn({ ...SEALED, 'workshop.yaml': shop.slice(0, start) + other + shop.slice(end) });
      const isSealed = isInForce(section, name) && !PASSING.has(key);
      const what = `${section} ${name} ${key}: ${value}, now ${other}: ${found}`;
      if (isSealed) expect(found, what).toEqual(['workshop']);
      else expect(found, what).toEqual([]);
      if (isSealed) inForce++;
      else outside++;
    }
    console.log(`of ${inForce} values in force each change was found, of ${outside} others none`);
    expect(Math.min(inForce, outside)).toBeGreaterThan(10);
  });
});

/** As LANGUAGE.md has it: they pass, and prove nothing. */
const PASSING: ReadonlySet<string> = new Set(['note', 'price', 'address', 'checked', 'heats', 'since', 'until']);
/** They judge and print. */
const OUTSIDE: ReadonlySet<string> = new Set(['shop', 'limits', 'reports']);

interface Leaf {
  readonly section: string;
  readonly name: string;
  readonly key: string;
  readonly start: number;
  readonly end: number;
}

/** Where LANGUAGE.md lets a thing of a section be named, as patterns over the pages' text. */
const PLACES: Readonly<Record<string, RegExp>> = {
  scales: /(?:\bon|^check-scale) ([\w-]+)/gm,
  containers: /\btare ([a-z][\w-]*)/g,
  crucibles: /\bcrucible ([\w-]+)/g,
  cupels: /\bcupel-body ([\w-]+)/g,
  moulds: /(?:\bmould|\binto) ([\w-]+)/g,
  furnaces: /\bfurnace ([\w-]+)/g,
  materials: /\b(?:add|material) ([\w-]+)/g,
  recipes: /\b(?:add|material) ([\w-]+)/g,
  parties: /(?:\b(?:to|owner|lent|repays|from|with)|^assay .* at) ([\w-]+)/gm,
  hands: /\b(?:hand|witness) (\w+)/g,
  measures: /\d ([a-z]+)/g,
};

interface ShopByHand {
  readonly isInForce: (section: string, name: string) => boolean;
  readonly leaves: readonly Leaf[];
}

/** Read with another reader of YAML trees than the program's; dated terms are left to their own test. */
const shopByHand = (text: string): ShopByHand => {
  const leaves: Leaf[] = [];
  const parts = new Map<string, string[]>();
  const take = (node: unknown, section: string, name: string, key: string): void => {
    if (isMap(node)) {
      for (const { key: own, value } of node.items) {
        const next = String(own);
        if (section === 'recipes') parts.set(name, [...(parts.get(name) ?? []), next]);
        if (next !== 'terms') take(value, section, name, next);
      }
    } else if (isScalar(node)) {
      const [start, end] = node.range!;
      leaves.push({ section, name, key, start, end });
      if (section === 'materials' && (key === 'from' || key === '')) parts.set(name, [text.slice(start, end)]);
    }
  };
  const all = parseDocument(text).contents;
  if (!isMap(all)) throw new Error('no map');
  for (const { key: section, value } of all.items) {
    if (OUTSIDE.has(String(section)) || !isMap(value)) continue;
    for (const { key: name, value: thing } of value.items) take(thing, String(section), String(name), '');
  }
  const pages = OURS.map((name) => SEALED[name]!.split('\n').map(withoutComment).join('\n')).join('\n');
  const named = new Map(
    Object.entries(PLACES).map(([section, place]) => [
      section,
      new Set([...pages.matchAll(place)].map((one) => one[1]!)),
    ]),
  );
  const made = new Set([...named.get('materials')!]);
  for (const name of made) for (const part of parts.get(name) ?? []) made.add(part);
  const isInForce = (section: string, name: string): boolean =>
    section === 'materials' || section === 'recipes' ? made.has(name) : named.get(section)!.has(name);
  return { isInForce, leaves };
};
