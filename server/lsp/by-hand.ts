/** What is answered only when a hand asks for it: a browser fetches it then. */
export { hover } from './hover';
export {
  definition,
  incoming,
  outgoing,
  prepareFamily,
  prepareRename,
  references,
  rename,
  selectionRanges,
  workspaceSymbols,
} from './navigation';
export { changesSince, forgotten, remember, sealDraft } from './record';
export { view } from './views';
export { completion, formatting, formattingOnType, formattingRanges, signatureHelp } from './writing';
