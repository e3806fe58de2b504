/**
 * No pattern may take longer than in proportion to its text: text of a journal is matched against them as it is typed. Judged by `recheck`, a
 * checker of regular expressions, which says `safe`, `vulnerable` (polynomial or exponential) or `unknown`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { type AnyNode, parse } from 'acorn';
import { full } from 'acorn-walk';
import { transformSync } from 'esbuild';
import { checkSync } from 'recheck';
import { describe, expect, test } from 'vitest';

const ROOT = resolve(__dirname, '..');

const sourcesIn = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === 'dist' ? [] : sourcesIn(path);
    return entry.name.endsWith('.ts') ? [path] : [];
  });

interface Pattern {
  readonly source: string;
  readonly flags: string;
}

const nodesOf = (path: string): readonly AnyNode[] => {
  const { code } = transformSync(readFileSync(path, 'utf8'), { loader: 'ts' });
  const nodes: AnyNode[] = [];
  full(parse(code, { ecmaVersion: 'latest', sourceType: 'module' }), (node) => nodes.push(node as AnyNode));
  return nodes;
};

const written = (nodes: readonly AnyNode[]): readonly Pattern[] =>
  nodes.flatMap((node) =>
    node.type === 'Literal' && node.regex ? [{ source: node.regex.pattern, flags: node.regex.flags }] : [],
  );

const isMadeOf = (node: AnyNode): boolean =>
  (node.type === 'NewExpression' || node.type === 'CallExpression') &&
  node.callee.type === 'Identifier' &&
  node.callee.name === 'RegExp';

/** Far more than any of them takes, on any machine. */
const LIMIT_MS = 300_000;

// In this process: its other means are programs of other makes.
process.env.RECHECK_BACKEND = 'pure';

/** Judged by automata alone, which answer alike each time. They know no looking ahead or behind: a pattern that does so is not known to be safe. */
const unsafe = (patterns: readonly Pattern[]): readonly string[] =>
  [...new Map(patterns.map((one) => [`/${one.source}/${one.flags}`, one]))].flatMap(([shown, { source, flags }]) => {
    const { status } = checkSync(source, flags, { checker: 'automaton', timeout: LIMIT_MS });
    return status === 'safe' ? [] : [`${status}: ${shown}`];
  });

const sources = [...sourcesIn(join(ROOT, 'server')), ...sourcesIn(join(ROOT, 'client'))];
const parsed = sources.map((path) => ({ path: relative(ROOT, path), nodes: nodesOf(path) }));

describe('patterns', () => {
  test('the checker knows a bad one', () => {
    expect(unsafe([{ source: '^([A-Za-z]+ ?)+:$', flags: '' }])).toHaveLength(1);
    expect(unsafe([{ source: '\\s+$', flags: '' }])).toHaveLength(1);
    expect(unsafe([{ source: '^[a-z]+:$', flags: '' }])).toEqual([]);
  });

  test('of the sources take time in proportion to the text', () => {
    const patterns = parsed.flatMap(({ nodes }) => written(nodes));
    expect(patterns.length).toBeGreaterThan(50);
    expect(unsafe(patterns)).toEqual([]);
  });

  test('are written out, and never made of a text', () => {
    expect(parsed.filter(({ nodes }) => nodes.some(isMadeOf)).map(({ path }) => path)).toEqual([]);
  });
});
