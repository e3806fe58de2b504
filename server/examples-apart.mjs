/**
 * Takes out of the rules of the core what only their pages say: title, why, the examples, the source. They would be a twentieth of what a browser fetches
 * at the start; what is fetched when a hand asks has them in a table. A test compares what the built program explains with what the rules say.
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { build } from 'esbuild';

const RULE = /server[\\/]rules[\\/][a-z-]+\.ts$/;
const HEAD = /^(?:export )?const \w+ = \w*[rR]ule\((?:.*, )?\{$/m;
const EXAMPLE = /^ {2}(?:title|why|source|wrong|right|beside|workshop):/gm;

/** In a core. */
export const examplesLeftOut = {
  name: 'examples-left-out',
  setup({ onLoad }) {
    onLoad({ filter: RULE }, ({ path }) => ({ contents: withoutExamples(readFileSync(path, 'utf8')), loader: 'ts' }));
  },
};

/** In what answers a hand. */
export const examplesGiven = {
  name: 'examples-given',
  setup({ onLoad }) {
    onLoad({ filter: /server[\\/]rules[\\/]examples\.ts$/ }, async ({ path }) => ({
      contents: `const EXAMPLES = ${JSON.stringify(await examplesIn(path))};
        export const textsOf = ({ code }) => EXAMPLES[code];`,
    }));
  },
};

/** By code, as the rules themselves give them. */
const examplesIn = async (path) => {
  const catalogue = path.replace(basename(path), 'catalogue.ts');
  const { outputFiles } = await build({
    stdin: {
      contents: `import { RULES } from ${JSON.stringify(catalogue)};
        export const examples = Object.fromEntries(RULES.map(({ code, title, why, wrong, right, source, beside }) => [code, { title, why, wrong, right, source, beside }]));`,
      resolveDir: '.',
    },
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'browser',
    logLevel: 'warning',
  });
  const module = `data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`;
  return (await import(module)).examples;
};

const withoutExamples = (text) => {
  const head = HEAD.exec(text);
  if (!head) return text;
  const start = head.index + head[0].length;
  const end = text.indexOf('\n});', start);
  let [kept, from] = [text.slice(0, start), start];
  for (const { index, 0: name } of text.slice(start, end).matchAll(EXAMPLE)) {
    const at = start + index;
    if (at < from) continue;
    kept += text.slice(from, at);
    from = endOfValue(text, at + name.length);
  }
  return kept + text.slice(from);
};

/** Behind the comma that ends a value. */
const endOfValue = (text, start) => {
  let depth = 0;
  for (let at = start; at < text.length; at++) {
    const char = text[at];
    if (`'"\``.includes(char)) at = endOfText(text, at);
    else if ('([{'.includes(char)) depth++;
    else if (')]}'.includes(char)) depth--;
    else if (char === ',' && depth === 0) return at + 1;
  }
  throw new Error(`An example does not end: ${text.slice(start, start + 40)}`);
};

/** At the mark that ends a text. */
const endOfText = (text, start) => {
  let at = start + 1;
  while (text[at] !== text[start]) at += text[at] === '\\' ? 2 : 1;
  return at;
};
