/**
 * Leaves out of a bundle what the library for the workshop file has beside reading: that file is read as text, so no kind of value is known but
 * text, and nothing is ever printed, made from values, or turned into them. A test compares what is read with and without.
 */
import { readFileSync } from 'node:fs';

const LIBRARY = String.raw`node_modules[\\/]yaml[\\/]browser[\\/]dist`;

/** From values to nodes and back; a walk over what was read before it was made nodes of. */
const VALUES = String.raw`parse[\\/]cst-visit|doc[\\/](?:anchors|applyReviver|createNode)|nodes[\\/](?:addPairToJSMap|toJS)`;

/** By file: what changes, copies, looks up, resolves or prints what was read. A build stops where the library is not as it was. */
const METHODS = {
  Document:
    'clone add addIn createAlias createNode createPair delete deleteIn get getIn has hasIn set setIn toJS toJSON toString',
  directives: 'tagString toString',
  Alias: 'resolve toJSON toString',
  Collection: 'clone addIn deleteIn getIn hasAllNullValues hasIn setIn',
  Node: 'clone toJS',
  Pair: 'clone toJSON toString',
  Scalar: 'toJSON toString',
  YAMLMap: 'from add delete get has set toJSON toString',
  YAMLSeq: 'add delete get has set toJSON toString from',
  Schema: 'clone',
  composer: 'streamInfo',
};

const without = (text, method) => {
  const [found, ...more] = text.match(new RegExp(`^ {4}(?:static )?${method}\\(.*?^ {4}\\}$`, 'gms')) ?? [];
  if (found === undefined || more.length > 0) throw new Error(`yaml is not as it was: ${method}`);
  return text.replace(found, () => '');
};

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
    const files = String.raw`${LIBRARY}[\\/]\w+[\\/](${Object.keys(METHODS).join('|')})\.js$`;
    onLoad({ filter: new RegExp(files) }, ({ path }) => {
      const methods = METHODS[new RegExp(files).exec(path)[1]].split(' ');
      return { contents: methods.reduce(without, readFileSync(path, 'utf8')) };
    });
    onLoad({ filter: new RegExp(String.raw`${LIBRARY}[\\/](?:stringify[\\/]\w+|${VALUES})\.js$`) }, ({ path }) => {
      const names = /^export \{([^}]*)\};$/m.exec(readFileSync(path, 'utf8'))[1].split(',');
      return { contents: names.map((name) => `export const ${name.trim()} = undefined;`).join('\n') };
    });
  },
};
