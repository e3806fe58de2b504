/**
 * Builds what runs of the server, with everything that its edges share in one file:
 *
 * - `core.js`: the language server without a disk. In a browser's worker it starts itself; it knows nothing of Node.
 * - `lsp.js`: what Node adds to it. `cli.js`: the command line.
 *
 * Three whole bundles would hold the engine three times over. Which module belongs to the core is not listed anywhere: it is what the
 * browser's worker is made of, and a module of the core that an edge imports is taken from there, so that none is ever there twice.
 */
import { relative, resolve } from 'node:path';
import { build } from 'esbuild';

const ROOT = resolve(import.meta.dirname ?? new URL('.', import.meta.url).pathname, '..');
const DIST = 'server/dist';
const CORE = { entry: 'server/lsp/browser.ts', file: './core.js' };
const COMMON = { absWorkingDir: ROOT, bundle: true, minify: true, logLevel: 'warning', format: 'cjs' };
const IN_WORKER = { ...COMMON, platform: 'browser', target: 'es2022' };
const IN_NODE = { ...COMMON, platform: 'node', target: 'node20', external: [CORE.file] };

/** The modules that the worker is made of, as paths from the root. */
const modulesOfCore = async () => {
  const { metafile } = await build({ ...IN_WORKER, entryPoints: [CORE.entry], write: false, metafile: true });
  return new Set(Object.keys(metafile.inputs));
};

/** Takes what belongs to the core from its bundle, and notes what was wanted of it, in the order in which it was first asked for. */
const fromCore = (core, wanted) => ({
  name: 'from-core',
  setup({ onResolve, onLoad, resolve: find }) {
    onResolve({ filter: /^[./@\w]/ }, async ({ path, importer, kind, resolveDir, pluginData }) => {
      if (pluginData === fromCore || kind === 'entry-point' || path === CORE.file) return undefined;
      const found = await find(path, { importer, kind, resolveDir, pluginData: fromCore });
      const name = relative(ROOT, found.path);
      return core.has(name) && found.errors.length === 0 ? { path: name, namespace: 'core' } : undefined;
    });
    onLoad({ filter: /.*/, namespace: 'core' }, ({ path }) => {
      wanted.add(path);
      return {
        contents: `module.exports = require('${CORE.file}').modules[${JSON.stringify(path)}];`,
        resolveDir: ROOT,
      };
    });
  },
});

/** The core as one script for both: in a worker there is no `module` to give anything to. */
const buildCore = (wanted) => {
  const parts = [...wanted].sort();
  const imports = parts.map((path, index) =>
    path.includes('node_modules')
      ? `const part${index} = require('./${path}');`
      : `import * as part${index} from './${path}';`,
  );
  const table = parts.map((path, index) => `${JSON.stringify(path)}: part${index}`);
  const contents = [...imports, `import './${CORE.entry}';`, `export const modules = { ${table.join(', ')} };`].join(
    '\n',
  );
  return build({
    ...IN_WORKER,
    stdin: { contents, resolveDir: ROOT, sourcefile: 'core.js' },
    banner: { js: `var module = typeof module === 'object' ? module : {};` },
    outfile: `${DIST}/core.js`,
  });
};

const core = await modulesOfCore();
const wanted = new Set();
const plugins = [fromCore(core, wanted)];
// The server has neither sockets nor other programs: what a library would bring in of them is left out, and a test looks.
const alias = { net: './server/lsp/absent.ts', child_process: './server/lsp/absent.ts' };
await build({ ...IN_NODE, entryPoints: ['server/lsp/main.ts'], alias, plugins, outfile: `${DIST}/lsp.js` });
await build({ ...IN_NODE, entryPoints: ['server/cli/main.ts'], plugins, outfile: `${DIST}/cli.js` });
await buildCore(wanted);
