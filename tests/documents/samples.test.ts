/** Every document of the sample shop: as it is recorded, valid, readable by everybody, the same in each form. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import axe from 'axe-core';
import { HtmlValidate } from 'html-validate';
import { JSDOM } from 'jsdom';
import { describe, expect, it } from 'vitest';
import { htmlFor } from '../../server/documents/formats/html';
import { KINDS } from '../../server/documents/kinds';
import { formed, made, SAMPLES, sampleWorkspace, settingFor } from '../support/documents';

const workspace = sampleWorkspace();
const validator = new HtmlValidate({
  extends: ['html-validate:recommended', 'html-validate:a11y', 'html-validate:document'],
});

describe.each(SAMPLES)('%s', (name, kind, choice) => {
  it('is as recorded', async () => {
    await expect(formed('md', kind, choice, workspace)).toMatchFileSnapshot(`samples/${name}.md`);
  });

  it('is valid HTML', async () => {
    for (const theme of ['page', 'editor'] as const) {
      const text = htmlFor(theme)(made(workspace, kind, choice), settingFor(workspace));
      const { results } = await validator.validateString(text);
      expect(results.flatMap(({ messages }) => messages.map(({ line, message }) => `${line}: ${message}`))).toEqual([]);
    }
  });

  it('can be read by assistive technology', async () => {
    expect(await barriers(formed('html', kind, choice, workspace))).toEqual([]);
  });

  it('asks for nothing and runs nothing', () => {
    // The name of SVG's own vocabulary is no address that anybody asks for anything.
    const text = formed('html', kind, choice, workspace).replaceAll('xmlns="http://www.w3.org/2000/svg"', '');
    expect(text).toContain("default-src 'none'");
    expect(text).not.toMatch(/<script|<link|<iframe|<img|<object|\bon\w+=|javascript:|https?:|@import|url\(/i);
  });

  it('has the same figures in every form', () => {
    const json = JSON.parse(formed('json', kind, choice, workspace)) as unknown;
    const figures = figuresIn(json).map(({ value, unit }) => `${value} ${unit}`);
    const lines = parseCsv(formed('csv', kind, choice, workspace)).slice(1);
    expect(lines.flatMap((cells) => (cells[6] === '' ? [] : [`${cells[6]} ${cells[7]}`])).sort()).toEqual(
      figures.sort(),
    );
    expect(new Set(lines.map((cells) => cells.length))).toEqual(new Set([12]));
  });
});

it('every kind of document is among them', () => {
  expect(new Set(SAMPLES.map(([, kind]) => kind))).toEqual(new Set(KINDS.map(({ code }) => code)));
});

it('every kind of document is in the readme', () => {
  const readme = readFileSync(resolve(__dirname, '../../README.md'), 'utf8');
  expect(KINDS.filter(({ code }) => !readme.includes(`| \`${code}`)).map(({ code }) => code)).toEqual([]);
});

/** What would keep somebody from reading it; colours are no part of this, as nothing is drawn here. */
const barriers = async (text: string): Promise<readonly string[]> => {
  const { window } = new JSDOM(text, { runScripts: 'outside-only' });
  window.eval(axe.source);
  const inside = window as unknown as { readonly axe: { run(of: unknown, how: object): Promise<axe.AxeResults> } };
  const found = await inside.axe.run(window.document, { rules: { 'color-contrast': { enabled: false } } });
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
};

interface Found {
  readonly value: number;
  readonly unit: string;
}

const figuresIn = (json: unknown): Found[] => {
  if (typeof json !== 'object' || json === null) return [];
  const own = 'value' in json && 'unit' in json ? [json as Found] : [];
  return [...own, ...Object.values(json).flatMap(figuresIn)];
};

/** RFC 4180. */
const parseCsv = (text: string): string[][] =>
  [...text.matchAll(/((?:"(?:[^"]|"")*"|[^",\r\n]*)(?:,(?:"(?:[^"]|"")*"|[^",\r\n]*))*)\r\n/g)].map(([, line]) =>
    [...`${line},`.matchAll(/("(?:[^"]|"")*"|[^",]*),/g)].map(([, cell]) =>
      cell!.replace(/^"|"$/g, '').replaceAll('""', '"'),
    ),
  );
