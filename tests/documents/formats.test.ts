/** Text of a journal is data in every form of a document. */
import { describe, expect, it } from 'vitest';
import { styleFor } from '../../server/documents/formats/style';
import { journalDigest } from '../../server/documents/source';
import { sha256 } from '../../server/record/sha256';
import { formed, made, ofPage, SAMPLES, sampleWorkspace } from '../support/documents';
import { workspaceOf } from '../support/workspace';

const HOSTILE = `2026-05-04
receive A 20.00 g
melt M1
  in A 20.00 g
  out B 19.98 g button
  note <script>alert(1)</script> & "quotes" | bar \`tick\` [link](http://x.invalid) <img src=x onerror=y>
  note =HYPERLINK("http://x.invalid")
  note +1
  note right\u202eleft
  10:00 </style><b>bold
`;

const of = (format: 'md' | 'html' | 'csv' | 'json'): string =>
  formed(format, 'melt-sheet', { entry: 'M1' }, ofPage(HOSTILE));

describe('what stands in a journal', () => {
  it('is text in HTML', () => {
    const html = of('html');
    expect(html).toContain('&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;quotes&quot;');
    expect(html).toContain('right\\u{202e}left');
    expect(html.match(/<script|<img|<b>/g)).toBeNull();
    expect(html.match(/<\/style>/g)).toHaveLength(1);
  });

  it('is text in Markdown', () => {
    const md = of('md');
    expect(md).toContain('\\<script\\>alert(1)\\</script\\>');
    expect(md).toContain('\\[link\\](http\\://x.invalid)');
    expect(md).toContain('right\\\\u{202e}left');
  });

  it('is no formula in a spreadsheet', () => {
    const csv = of('csv');
    expect(csv).toContain(`"'=HYPERLINK(""http://x.invalid"")"`);
    expect(csv).toContain(",'+1,");
    expect(csv).not.toMatch(/(^|,)"?[=+@]/m);
  });

  it('keeps to its place in JSON', () => {
    const { sections } = JSON.parse(of('json')) as {
      sections: { title: string; blocks: { sentences?: { text: string }[] }[] }[];
    };
    const notes = sections.find(({ title }) => title === 'Notes')!.blocks[0]!.sentences!;
    expect(notes.map(({ text }) => text)).toContain('=HYPERLINK("http://x.invalid")');
  });
});

describe('what is to be typed', () => {
  const page = ofPage(HOSTILE);
  const trading = (format: 'md' | 'html' | 'json'): string => formed(format, 'trading-account', {}, page);

  it('is marked as such in a sentence of ours', () => {
    expect(trading('html')).toContain('No purchase with its price (<code>bought 3480.00 USD</code>) is written');
    expect(trading('md')).toContain('No purchase with its price (`bought 3480.00 USD`) is written');
    expect(trading('json')).toContain('No purchase with its price (`bought 3480.00 USD`) is written');
  });

  it('is not looked for in what somebody wrote', () => {
    expect(of('html')).toContain('bar `tick` [link]');
    expect(of('md')).toContain('bar \\`tick\\` ');
  });
});

describe('colours', () => {
  const channel = (hex: string): number => {
    const value = Number.parseInt(hex, 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  /** WCAG 2.1, relative luminance. */
  const luminance = (colour: string): number => {
    const full = colour.length === 3 ? [...colour].map((digit) => digit + digit).join('') : colour;
    const [red, green, blue] = [0, 2, 4].map((at) => channel(full.slice(at, at + 2))) as [number, number, number];
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const contrast = (one: string, other: string): number => {
    const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b) as [number, number];
    return (high + 0.05) / (low + 0.05);
  };
  const palettes = [
    ...styleFor('page', undefined).matchAll(
      /--paper:#(\w+);--ink:#(\w+);--dim:#(\w+);--rule:#\w+;--shade:#\w+;--link:#(\w+)/g,
    ),
  ];

  it('stand out by seven to one, light and dark', () => {
    expect(palettes.length).toBeGreaterThanOrEqual(2);
    for (const [, paper, ...inks] of palettes) for (const ink of inks) expect(contrast(paper!, ink)).toBeGreaterThan(7);
  });

  it('are those of paper in print, whatever the screen has', () => {
    expect(styleFor('page', 'A4')).toMatch(/@media print\{:root\{color-scheme:light;--paper:#fff/);
    expect(styleFor('page', 'letter')).toContain('@page{size:letter;');
    expect(styleFor('page', undefined)).toContain('@page{margin:');
  });
});

describe('the digest of a journal', () => {
  it('is that of the list of its files', () => {
    const [page, shop] = ['2026-05-04\n', 'shop: { name: Å }\n'];
    const workspace = workspaceOf({ 'b.melt': page, 'workshop.yaml': shop });
    const list = `${sha256(page)}  b.melt\n${sha256(shop)}  workshop.yaml\n`;
    expect(journalDigest(workspace)).toBe(sha256(list));
  });

  it('is another for another text', () => {
    expect(journalDigest(ofPage('2026-05-04\n'))).not.toBe(journalDigest(ofPage('2026-05-05\n')));
  });
});

describe('columns of a table', () => {
  it('have a name each: a form with one cell a line knows them by that alone', () => {
    for (const [name, kind, choice] of SAMPLES) {
      for (const { title, blocks } of made(sampleWorkspace(), kind, choice).sections) {
        for (const block of blocks) {
          if (block.form !== 'table') continue;
          const heads = block.columns.map(({ head }) => head);
          expect([name, title, ...new Set(heads)]).toEqual([name, title, ...heads]);
        }
      }
    }
  });
});
