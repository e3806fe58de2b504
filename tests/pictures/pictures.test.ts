/** Pictures: what they say, what they never hold, and that a run anywhere gives the same bytes. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { JSDOM } from 'jsdom';
import { afterAll, describe, expect, test } from 'vitest';
import type { Picture } from '../../server/pictures/frame';
import { type PictureQuestion, pictureOf } from '../../server/pictures/pictures';
import type { Workspace } from '../../server/workspace/workspace';
import { fineweight, folderOf, removeFolders } from '../cli/run';
import { shopYear, YEAR_WORKSHOP } from '../support/shop-year';
import { workspaceOf } from '../support/workspace';

afterAll(removeFolders);

const TARN_END = resolve(__dirname, '../../samples/tarn-end');
const tarnEnd = workspaceOf(
  Object.fromEntries(readdirSync(TARN_END).map((name) => [name, readFileSync(join(TARN_END, name), 'utf8')])),
);
const year = (lots: number): Workspace =>
  workspaceOf({ 'workshop.yaml': YEAR_WORKSHOP, ...Object.fromEntries(shopYear({ lots })) });

const drawn = (workspace: Workspace, question: PictureQuestion): Picture => {
  const made = pictureOf(workspace, question);
  if (typeof made === 'string') throw new Error(made);
  return made;
};

const QUESTIONS: readonly (readonly [string, PictureQuestion])[] = [
  ['flow', { kind: 'flow' }],
  ['flow-BAR-7', { kind: 'flow', lot: 'BAR-7' }],
  ['unaccounted', { kind: 'unaccounted', metal: 'Au' }],
  ['recovery', { kind: 'recovery', metal: 'Au' }],
  ['loss', { kind: 'loss' }],
  ['stock', { kind: 'stock' }],
  ['assays', { kind: 'assays', metal: 'Au' }],
  ['heat-M57', { kind: 'heat', step: 'M57' }],
];

/** What the tests ask of an element. */
interface Node {
  readonly tagName: string;
  readonly textContent: string | null;
  readonly attributes: Iterable<{ readonly name: string; readonly value: string }>;
  getAttribute(name: string): string | null;
  querySelector(selector: string): Node | null;
  querySelectorAll(selector: string): Iterable<Node>;
}

/** As a browser takes it: well-formed, or it throws. */
const parsed = (svg: string): Node & { readonly documentElement: Node } => {
  const document = new JSDOM(svg, { contentType: 'image/svg+xml' }).window.document as ReturnType<typeof parsed>;
  expect(document.querySelector('parsererror')?.textContent).toBeUndefined();
  return document;
};

const textsOf = (svg: string): string[] =>
  [...parsed(svg).querySelectorAll('text')].map(({ textContent }) => textContent ?? '');

describe.each(QUESTIONS)('%s', (name, question) => {
  test('as it was looked at', async () => {
    await expect(drawn(tarnEnd, question).svg).toMatchFileSnapshot(`samples/${name}.svg`);
  });

  test.each([1, 40])(
    'stands with %i lots too: well-formed, with its words, without script or anything from outside',
    (lots) => {
      const asked = { ...question, lot: question.lot && 'B1', step: question.step && 'M1' };
      const { svg, says } = drawn(year(lots), asked);
      const root = parsed(svg).documentElement;
      expect(root.getAttribute('role')).toBe('img');
      const words = root
        .getAttribute('aria-labelledby')!
        .split(' ')
        .map((id: string) => root.querySelector(`#${id}`)!.textContent);
      expect(words[0]).not.toBe('');
      expect(words[1]).toBe(says);
      const all = [...root.querySelectorAll('*')];
      expect(all.map(({ tagName }) => tagName).filter((tag) => /script|foreignObject|image|use|^a$/.test(tag))).toEqual(
        [],
      );
      for (const { attributes } of all) {
        for (const { name: key, value } of attributes) {
          expect(key).not.toMatch(/^on|href|^style$/);
          expect(value).not.toMatch(/NaN|Infinity|undefined/);
        }
      }
      expect(svg.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:|@import|url\((?!#)/);
    },
  );
});

describe('what a picture says', () => {
  test('of nothing that is known', () => {
    expect(drawn(tarnEnd, { kind: 'unaccounted', metal: 'Pt' }).says).toBe(
      'No step has platinum known on both sides without a guess.',
    );
    expect(drawn(year(1), { kind: 'stock', metal: 'Pt' }).says).toContain('Pt at the end');
  });

  test('of a period, that what left later was on hand at its end, and of what left before nothing', () => {
    const workspace = workspaceOf({
      'page.melt': `2026-05-04
receive A 10.00 g, material gold
receive B 20.00 g, material gold
2026-05-10
ship V1 to refinery
  in A
2026-05-20
ship V2 to refinery
  in B
`,
    });
    const says = (period: Pick<PictureQuestion, 'from' | 'to'>): string =>
      drawn(workspace, { kind: 'flow', ...period }).says.replace(/^[^.]*\. /, '');
    expect(says({ to: '2026-05-12' })).toBe('gold to shipped 10.000 g ±0.012; gold to on hand 20.00 g ±0.02.');
    expect(says({ from: '2026-05-12' })).toBe('gold to shipped 20.00 g ±0.02.');
    expect(says({})).toBe('gold to shipped 30.00 g ±0.02.');
  });

  test('that few points give no limits', () => {
    expect(textsOf(drawn(year(3), { kind: 'unaccounted' }).svg)).toContain('too few for limits');
    expect(textsOf(drawn(year(12), { kind: 'unaccounted' }).svg)).toContain('upper limit');
  });

  test('of each kind of step on a scale of its own, where they are parted by hand or month', () => {
    const steps = Array.from(
      { length: 8 },
      (_, at) =>
        `2026-05-0${at + 1}\nreceive A${at} 40.00 g, material scrap\ncast M${at}, hand AB\n  in A${at}\n  out B${at} 39.9${at} g bar\nreceive W${at} 100.00 g, material sweeps\nburn N${at}, hand AB\n  in W${at}\n  out W${at}a ${50 + at}.00 g ash`,
    );
    const { svg, says } = drawn(workspaceOf({ 'page.melt': steps.join('\n') }), { kind: 'loss', by: 'hand' });
    expect(says).toContain('Each kind of step has a scale of its own. cast, AB, 8: 0.16 % (0.08 to 0.25).');
    // The casts, from 0.07 to 0.25 %, take most of the room of their row, whatever the burnings lose.
    const points = [...parsed(svg).querySelectorAll('circle')].map((node) => Number(node.getAttribute('cx')));
    const casts = points.slice(0, 8);
    expect(Math.max(...casts) - Math.min(...casts)).toBeGreaterThan(200);
  });

  test('of what is on hand on the last day, with how surely that is known', () => {
    const page =
      '2026-05-01\nreceive A 20.00 g\nassay A by fire, Au 90.0 ±1.0 %\n2026-08-09\nreceive B 20.00 g\nassay B by fire, Au 90.0 ±1.0 %';
    const { svg, says } = drawn(workspaceOf({ 'page.melt': page }), { kind: 'stock', metal: 'Au' });
    expect(says).toContain('Au at the end: 36.0 g ±0.3.');
    expect(textsOf(svg)).toContain('36.0 g');
    // The band goes on to the right of the day on which it becomes wider: its edges are steps, and the last step is no upright line.
    const [band] = [...parsed(svg).querySelectorAll('path.veil')].map((node) => node.getAttribute('d')!);
    const edge = band!
      .slice(1)
      .split('Z')[0]!
      .split('L')
      .map((point) => point.split(',').map(Number) as [number, number]);
    const most = Math.max(...edge.map(([at]) => at));
    const heights = new Set(edge.filter(([at]) => at === most).map(([, height]) => height));
    expect(edge.filter(([at]) => at < most && at > most - 20).map(([, height]) => height)).toEqual(
      expect.arrayContaining([...heights]),
    );
  });

  test('of steps far off by names that do not lie on each other', () => {
    const casts = Array.from({ length: 60 }, (_, at) => {
      const theirs = at % 20 < 4 ? '59.60' : '58.50';
      return `receive A${at} 40.00 g, material scrap\nassay A${at} by fire, Au 58.50 ±0.10 %\nmelt M${at}\n  in A${at}\n  out B${at} 39.95 g bar\nassay B${at} by fire, Au ${theirs} ±0.10 %`;
    });
    const { svg } = drawn(workspaceOf({ 'page.melt': `2026-05-01\n${casts.join('\n')}` }), { kind: 'unaccounted' });
    const names = [...parsed(svg).querySelectorAll('text')]
      .filter(({ textContent }) => /^melt M\d+$/.test(textContent ?? ''))
      .map((node) => [Number(node.getAttribute('x')), Number(node.getAttribute('y'))] as const);
    // Three times four of them far off, side by side: one name each.
    expect(names).toHaveLength(3);
    for (const [at, [x, y]] of names.entries())
      for (const [otherX, otherY] of names.slice(at + 1))
        expect(Math.abs(x - otherX) > 40 || Math.abs(y - otherY) > 12).toBe(true);
  });

  test('of days below the charts only as many as do not touch', () => {
    for (const lots of [2, 3, 8, 12, 13, 40]) {
      const { svg } = drawn(year(lots), { kind: 'unaccounted' });
      const places = [...parsed(svg).querySelectorAll('text')]
        .filter(({ textContent }) => /^\d{4}-\d\d-\d\d$/.test(textContent ?? ''))
        .map((node) => Number(node.getAttribute('x')));
      expect(places.length).toBeGreaterThan(1);
      // Ten figures of eleven points are some 60 wide.
      for (const [at, place] of places.slice(1).entries()) expect(place - places[at]!).toBeGreaterThan(62);
    }
  });

  test('of limits that fall together each by its own name, one below the other', () => {
    const casts = Array.from(
      { length: 9 },
      (_, at) =>
        `2026-05-0${at + 1}\nreceive A${at} 40.00 g, material scrap\nassay A${at} by fire, Au 58.50 ±0.10 %\nmelt M${at}\n  in A${at}\n  out B${at} 39.90 g bar\nassay B${at} by fire, Au 58.60 ±0.10 %`,
    );
    const { svg } = drawn(workspaceOf({ 'page.melt': casts.join('\n') }), { kind: 'unaccounted' });
    const heights = new Map(
      [...parsed(svg).querySelectorAll('text')].map((node) => [node.textContent, Number(node.getAttribute('y'))]),
    );
    // The mean stands between them.
    expect(heights.get('lower limit')! - heights.get('upper limit')!).toBe(26);
  });

  test('of a bias between two assayers', () => {
    expect(drawn(year(40), { kind: 'assays' }).says).toMatch(
      /^40 pairs of the whole record, on one metal each\. In the mean ours less theirs is \+[\d.]+ ‰ \(95 %: .*\), a bias that is shown\.$/,
    );
    expect(drawn(year(1), { kind: 'assays' }).says).toContain('one pair tells nothing of a bias.');
  });

  test.each([
    [{ kind: 'flow', lot: 'NO-7' }, 'No lot is named NO-7.'],
    [{ kind: 'heat', step: 'M99' }, 'No step is named M99.'],
    [{ kind: 'heat' }, 'A heat wants its step: `--step M57`.'],
  ] as const)('%o is asked about', (question, says) => {
    expect(pictureOf(tarnEnd, question)).toBe(says);
  });

  test('text of the journal is data', () => {
    const nasty = '<script>alert(1)</script>&"\'';
    const page = `2026-05-04\nreceive "${nasty.replaceAll('"', '')}" 20.00 g\n  material gold\ncast C1\n  in "${nasty.replaceAll('"', '')}"\n  09:00 <img src=x onerror=y> & more\n  10:00 poured\n  out B 19.99 g bar`;
    const workspace = workspaceOf({ 'page.melt': page });
    for (const question of [
      { kind: 'heat', step: 'C1' },
      { kind: 'flow', lot: 'B' },
    ] as const) {
      const { svg } = drawn(workspace, question);
      expect([...parsed(svg).querySelectorAll('script, img')]).toEqual([]);
      expect(svg).not.toMatch(/<(script|img)/);
    }
  });
});

describe('words', () => {
  const LONG = 'sweepings-of-the-upper-terrace-and-of-the-old-sluice';
  const UNBROKEN = 'OLDGOLDOFGRANDFATHERWITHOUTANYPLACETOBREAK';
  /** Where a word starts and ends, by a careful mean of system fonts, and all that stands in the picture. */
  const room = (svg: string) => {
    const root = parsed(svg).documentElement;
    const [, , width, height] = root.getAttribute('viewBox')!.split(' ').map(Number) as [
      number,
      number,
      number,
      number,
    ];
    return { width, height, texts: [...root.querySelectorAll('text')] };
  };
  const widthOf = (node: Node): number => {
    const of = node.getAttribute('class') ?? '';
    return 0.56 * (/small/.test(of) ? 11 : /title/.test(of) ? 16 : 12) * [...(node.textContent ?? '')].length;
  };
  const fits = ({ svg }: Picture): string[] => {
    const { width, height, texts } = room(svg);
    return texts.flatMap((node) => {
      const anchor = node.getAttribute('text-anchor');
      const at = Number(node.getAttribute('x'));
      const wide = widthOf(node);
      const from = anchor === 'end' ? at - wide : anchor === 'middle' ? at - wide / 2 : at;
      const isIn = from >= 0 && from + wide <= width && Number(node.getAttribute('y')) <= height;
      return isIn && !node.textContent!.includes('…') ? [] : [node.textContent!];
    });
  };
  const chain = (steps: number): Workspace => {
    const page = [
      '2026-06-01',
      `receive ${LONG} 400.00 g from partner, material lemel`,
      `assay ${LONG} by fire at the-laboratory-of-the-assay-office-beyond-the-river-and-the-hill`,
      '  Au 12 %',
      `receive ${UNBROKEN} 40.00 g, material gold`,
      `assay ${UNBROKEN} by fire`,
      '  Au 99 %',
      ...Array.from({ length: steps }, (_, at) => [
        `melt the-${at}-heat-of-${LONG}`,
        ...(at === 0 ? [`  in ${LONG}`, `  in ${UNBROKEN}`] : [`  in bar-${at - 1}-${LONG}`]),
        `  08:00 charged, ${'and covered with the lid under the running hood '.repeat(5)}`,
        `  out bar-${at}-${LONG} ${400 - at * 0.1} g bar`,
        `assay bar-${at}-${LONG} by xrf`,
        `  Au ${19 - at * 0.4} %`,
        `assay bar-${at}-${LONG} by fire at the-laboratory-of-the-assay-office-beyond-the-river-and-the-hill`,
        `  Au ${19.2 - at * 0.4} %`,
      ]).flat(),
    ];
    return workspaceOf({ 'page.melt': page.join('\n') });
  };

  test.each([1, 3, 12, 24])('are whole and within the picture, however long the names of %i steps are', (steps) => {
    const workspace = chain(steps);
    for (const question of [
      { kind: 'flow' },
      { kind: 'flow', lot: `bar-0-${LONG}` },
      { kind: 'unaccounted' },
      { kind: 'recovery' },
      { kind: 'loss', by: 'material' },
      { kind: 'stock' },
      { kind: 'assays' },
      { kind: 'heat', step: `the-0-heat-of-${LONG}` },
    ] as const) {
      expect(fits(drawn(workspace, question)), question.kind).toEqual([]);
    }
  });

  test.each([1, 40])('are whole and within the picture with %i lots', (lots) => {
    for (const [name, question] of QUESTIONS) {
      const asked = { ...question, lot: question.lot && 'B1', step: question.step && 'M1' };
      expect(fits(drawn(year(lots), asked)), name).toEqual([]);
    }
  });

  test('tell all of a name, in lines', () => {
    const words = textsOf(drawn(tarnEnd, { kind: 'flow' }).svg);
    expect(words).toContain('used in assays');
    expect(textsOf(drawn(chain(3), { kind: 'flow', lot: `bar-0-${LONG}` }).svg).join('')).toContain(UNBROKEN);
  });
});

describe('on the command line', () => {
  const cwd = folderOf({ 'workshop.yaml': YEAR_WORKSHOP, ...Object.fromEntries(shopYear({ lots: 12 })) });

  test('the same bytes in any time zone and locale', () => {
    const places: readonly Readonly<Record<string, string>>[] = [
      { TZ: 'UTC', LC_ALL: 'C' },
      { TZ: 'Pacific/Kiritimati', LC_ALL: 'de_DE.UTF-8' },
    ];
    const runs = places.map((env) => fineweight(['picture', 'stock'], { cwd, env }));
    expect(runs[0]!.exit).toBe(0);
    expect(runs[1]!.out).toBe(runs[0]!.out);
  });

  test('into a new file, and over another only where that is asked for', () => {
    const out = join(cwd, 'stock.svg');
    expect(fineweight(['picture', 'stock', '--out', out], { cwd })).toMatchObject({ exit: 0, out: '', err: '' });
    const again = fineweight(['picture', 'heat', '--step', 'M1', '--out', out], { cwd });
    expect(again).toMatchObject({ exit: 2 });
    expect(again.err).toContain('is there already; --overwrite writes over it.');
    expect(fineweight(['picture', 'heat', '--step', 'M1', '--out', out, '--overwrite'], { cwd }).exit).toBe(0);
    expect(readFileSync(out, 'utf8')).toContain('melt M1, 2016-01-04');
  });

  test.each([
    [['picture'], 'wants what to draw: flow, unaccounted, recovery, loss, stock, assays, heat.'],
    [['picture', 'cake'], 'There is no picture cake.'],
    [['picture', 'loss', '--from', '2016-03-01', '--to', '2016-02-01'], '--from 2016-03-01 is after --to 2016-02-01.'],
    [['picture', 'heat', '--metal', 'Au'], 'heat takes no --metal; it takes --step.'],
  ])('%s is asked about', (args, says) => {
    const { exit, err } = fineweight(args, { cwd });
    expect(exit).toBe(2);
    expect(err).toContain(says);
  });
});
