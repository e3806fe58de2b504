/**
 * Leaves out of a bundle what the library for the workshop file has beside reading: that file is read as text, so no kind of value is known but
 * text, and nothing is ever printed, made from values, or turned into them. A test compares what is read with and without.
 */
import { readFileSync } from 'node:fs';

const LIBRARY = String.raw`node_modules[\\/]yaml[\\/]browser[\\/]dist`;

/** From values to nodes and back; a walk over what was read before it was made nodes of. */
const VALUES = String.raw`parse[\\/]cst-visit|doc[\\/](?:anchors|applyReviver|createNode)|nodes[\\/](?:addPairToJSMap|toJS)`;

export const textAlone = {
  name: 'text-alone',
  setup({ onLoad }) {
    onLoad({ filter: new RegExp(String.raw`${LIBRARY}[\\/]schema[\\/]tags\.js$`) }, () => ({
      contents: `
        import { map } from './common/map.js';
        import { seq } from './common/seq.js';
        import { string } from './common/string.js';
        export const coreKnownTags = {};
        export const getTags = () => [map, seq, string];`,
    }));
    // A walk that waits for promises.
    onLoad({ filter: new RegExp(String.raw`${LIBRARY}[\\/]visit\.js$`) }, ({ path }) => {
      const [walk, behind] = readFileSync(path, 'utf8').split(
        /^async function visitAsync[\s\S]*?^function initVisitor/m,
      );
      return {
        contents: `${walk}function initVisitor${behind}`.replace('visit, visitAsync', 'visit, visit as visitAsync'),
      };
    });
    onLoad({ filter: new RegExp(String.raw`${LIBRARY}[\\/](?:stringify[\\/]\w+|${VALUES})\.js$`) }, ({ path }) => {
      const names = /^export \{([^}]*)\};$/m.exec(readFileSync(path, 'utf8'))[1].split(',');
      return { contents: names.map((name) => `export const ${name.trim()} = undefined;`).join('\n') };
    });
  },
};
