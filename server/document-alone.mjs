/** Leaves out of a bundle what the library for open documents has beside keeping them: edits of a whole document at once, which nobody here asks for. */
import { readFileSync } from 'node:fs';

const LIBRARY = /vscode-languageserver-textdocument[\\/]lib[\\/]esm[\\/]main\.js$/;
const EDITS = / {4}function applyEdits\(document, edits\) \{[\s\S]*?TextDocument\.applyEdits = applyEdits;\n/;

export const documentAlone = {
  name: 'document-alone',
  setup({ onLoad }) {
    onLoad({ filter: LIBRARY }, ({ path }) => ({ contents: readFileSync(path, 'utf8').replace(EDITS, '') }));
  },
};
