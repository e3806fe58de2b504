/**
 * Builds what runs of the server, with everything that its edges share in three files:
 *
 * - `core.js`: the language server without a disk. In a browser's worker it starts itself; it knows nothing of Node.
 * - `by-hand.js`: what is answered when a hand asks. `documents.js`: documents and pictures. A worker runs each when it is wanted, on the core.
 * - `lsp.js`: what Node adds to them. `cli.js`: the command line.
 *
 * Whole bundles would hold the engine three times over. Which module belongs to the first three is not listed anywhere: the core is what the
 * browser's worker is made of from the start; each of the others is what it needs beside, the few lists that both need twice rather than from the
 * start. A module of theirs that an edge imports is taken from there.
 */
import { readFileSync } from 'node:fs';
import { relative, resolve } from 'node:path';
import { build } from 'esbuild';
import { decimalAlone } from './decimal-alone.mjs';
import { documentAlone } from './document-alone.mjs';
import { examplesGiven, examplesLeftOut } from './examples-apart.mjs';
import { textAlone } from './text-alone.mjs';

const ROOT = resolve(import.meta.dirname ?? new URL('.', import.meta.url).pathname, '..');
const DIST = 'server/dist';
const CORE = { entry: 'server/lsp/browser.ts', file: './core.js', global: 'fineweightCore' };
const DOCUMENTS = { entry: 'server/lsp/documents.ts', file: './documents.js', global: 'fineweightDocuments' };
const BY_HAND = { entry: 'server/lsp/by-hand.ts', file: './by-hand.js', global: 'fineweightByHand' };
const SHARED = [CORE, BY_HAND, DOCUMENTS];
const COMMON = {
  absWorkingDir: ROOT,
  bundle: true,
  minify: true,
  logLevel: 'warning',
  format: 'cjs',
  charset: 'utf8',
  // They stand in the notices that come with the program.
  legalComments: 'none',
};

const IN_WORKER = { ...COMMON, platform: 'browser', target: 'es2022' };
const IN_NODE = { ...COMMON, platform: 'node', target: 'node20', external: SHARED.map(({ file }) => file) };

/** The modules that an entry is made of, as paths from the root. */
const modulesOf = async ({ entry }) => {
  const { metafile } = await build({
    ...IN_WORKER,
    plugins: [textAlone],
    entryPoints: [entry],
    write: false,
    metafile: true,
  });
  return Object.keys(metafile.inputs);
};

/** What of a module is named where it is imported; undefined for all of it. What nobody names is left out of a shared bundle. */
const namesWanted = (importer, path) => {
  if (importer.includes('node_modules')) return undefined;
  const clause = /^(?:import|export) (type )?(\{[^}]*\}|[^'{]*) from '([^']+)';/gms;
  const found = [...readFileSync(importer, 'utf8').matchAll(clause)].filter(([, , , from]) => from === path);
  const lists = found.filter(([, type]) => !type).map(([, , list]) => list);
  if (lists.some((list) => !list.startsWith('{'))) return undefined;
  const names = lists.flatMap((list) => list.slice(1, -1).split(',')).map((name) => name.trim());
  return names.filter((name) => name !== '' && !name.startsWith('type ')).map((name) => name.split(' as ')[0]);
};

/** Takes what belongs to one of `shared` from its bundle, and notes what was wanted of it. */
const fromShared = (shared) => ({
  name: 'from-shared',
  setup({ onResolve, onLoad, resolve: find }) {
    onResolve({ filter: /^[./@\w]/ }, async ({ path, importer, kind, resolveDir, pluginData }) => {
      if (pluginData === fromShared || kind === 'entry-point' || SHARED.some(({ file }) => file === path))
        return undefined;
      const found = await find(path, { importer, kind, resolveDir, pluginData: fromShared });
      const name = relative(ROOT, found.path);
      const home = shared.find(({ modules }) => modules.has(name));
      if (!home || found.errors.length > 0) return undefined;
      want(home, name, namesWanted(importer, path));
      return { path: name, namespace: 'shared' };
    });
    onLoad({ filter: /.*/, namespace: 'shared' }, ({ path }) => {
      const { file, global } = shared.find(({ modules }) => modules.has(path));
      // In a worker the core is a name of the whole scope.
      const source = shared.length === 1 ? global : `require('${file}')`;
      return { contents: `module.exports = ${source}.modules[${JSON.stringify(nameOf(path))}];`, resolveDir: ROOT };
    });
  },
});

/** By module: the names wanted of it, or all. */
const want = ({ wanted }, module, names) => {
  const before = wanted.get(module) ?? new Set();
  wanted.set(module, names && before !== ALL ? new Set([...before, ...names]) : ALL);
};
const ALL = 'all';

/** One script for Node and for a worker, where it leaves what it gives under a name of the scope. Wrapped, as scripts of a worker share one scope. */
const buildShared = ({ entry, file, global, wanted }, { plugins, needs }) => {
  const parts = [...wanted].sort(([a], [b]) => (a < b ? -1 : 1));
  const imports = parts.map(([path, names], index) => {
    if (path.includes('node_modules')) return `const part${index} = require('./${path}');`;
    if (names === ALL) return `import * as part${index} from './${path}';`;
    const named = [...names].sort();
    const list = named.map((name) => `${name} as part${index}${name}`).join(', ');
    const values = named.map((name) => `${name}: part${index}${name}`).join(', ');
    return `import { ${list} } from './${path}'; const part${index} = { ${values} };`;
  });
  const table = parts.map(([path], index) => `${JSON.stringify(nameOf(path))}: part${index}`);
  const contents = [...imports, `import './${entry}';`, `export const modules = { ${table.join(', ')} };`].join('\n');
  const need = needs ? `, typeof require === 'function' ? require('${needs.file}') : ${needs.global}` : '';
  return build({
    ...IN_WORKER,
    plugins,
    stdin: { contents, resolveDir: ROOT, sourcefile: file },
    banner: { js: `var ${global} = ((module${needs ? `, ${needs.global}` : ''}) => {` },
    footer: { js: `return module.exports; })(typeof module === 'object' ? module : {}${need});` },
    outfile: `${DIST}/${file}`,
  });
};

const made = await Promise.all(SHARED.map(modulesOf));
const inOrder = [...new Set(made.flat())].sort();
/** What a module is called in the built files: an entry by its path, any other by its place in their order, or names alone would fill kilobytes. */
const nameOf = (path) => (SHARED.some(({ entry }) => entry === path) ? path : inOrder.indexOf(path).toString(36));
const isOfCore = (name) => made[0].includes(name);
const shared = SHARED.map((one, at) => ({
  ...one,
  modules: new Set(at === 0 ? made.flat().filter(isOfCore) : made[at].filter((name) => !isOfCore(name))),
  wanted: new Map(),
}));
const [core, ...later] = shared;
for (const one of later) want(one, one.entry);
const plugins = [fromShared(shared)];
// The server has neither sockets nor other programs: what a library would bring in of them is left out, and a test looks.
const alias = { net: './server/lsp/absent.ts', child_process: './server/lsp/absent.ts' };
await build({ ...IN_NODE, entryPoints: ['server/lsp/main.ts'], alias, plugins, outfile: `${DIST}/lsp.js` });
await build({
  ...IN_NODE,
  entryPoints: ['server/cli/main.ts'],
  plugins,
  outfile: `${DIST}/cli.js`,
});
for (const one of later) await buildShared(one, { plugins: [examplesGiven, fromShared([core])], needs: CORE });
await buildShared(core, { plugins: [textAlone, decimalAlone, documentAlone, examplesLeftOut] });
