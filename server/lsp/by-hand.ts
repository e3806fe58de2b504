/** What is answered only when a hand asks for it: a browser fetches it then. */
export { hover } from './hover';
export { changesSince, forgotten, remember, sealDraft } from './record';
export { view } from './views';
export { completion, formatting, formattingOnType, formattingRanges } from './writing';
