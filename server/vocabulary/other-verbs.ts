/** Verbs of the trade that have another name in the journal, or are several steps of it. */

export interface OtherVerb {
  /** The verb to write instead; none where it depends. */
  readonly verb: string | undefined;
  /** What to know beside; a whole sentence. */
  readonly says?: string;
}

const same = (verb: string, words: string): [string, OtherVerb][] => words.split(' ').map((word) => [word, { verb }]);

const OTHER_VERBS: ReadonlyMap<string, OtherVerb> = new Map<string, OtherVerb>([
  ...same('melt', 'smelt fuse flux remelt scorify melted'),
  ...same('cast', 'pour ingot granulate poured'),
  ...same('cupel', 'cupell cupellate cupelled'),
  ...same('receive', 'buy purchase bought got received'),
  ...same('ship', 'send deliver dispatch sent'),
  ...same('part', 'parting'),
  ...same('dissolve', 'digest leach'),
  ...same('drop', 'precipitate cement cementate'),
  ...same('roast', 'calcine'),
  ...same('burn', 'incinerate ash'),
  ...same('screen', 'sieve sift'),
  ...same('wash', 'pickle rinse boil'),
  ...same('blend', 'mix join merge'),
  ...same('split', 'divide cut'),
  ...same('sample', 'drill'),
  ...same('discard', 'dump'),
  ...same('relabel', 'rename'),
  ...same('weigh', 'reweigh weighed'),
  ['inquart', { verb: 'melt', says: 'Inquarting is a `melt` with `add silver`.' }],
  ['quarter', { verb: 'melt', says: 'Inquarting is a `melt` with `add silver`; dividing a heap is a `split`.' }],
  ['alloy', { verb: 'melt', says: 'Alloying is a `melt` with the metals behind `add`.' }],
  ...['-', '*', '•', '–'].map((mark): [string, OtherVerb] => [
    mark,
    { verb: undefined, says: 'An entry begins with its verb, without a mark before it.' },
  ]),
  ['#', { verb: undefined, says: 'A comment is `#` and a blank, then its text.' }],
  ['refine', { verb: undefined, says: 'Write the steps: `dissolve`, `part`, `drop`, `cupel`.' }],
  ['test', { verb: 'assay', says: 'Write `assay`, the lot, `by` and the method.' }],
]);

export const otherVerb = (word: string): OtherVerb | undefined => OTHER_VERBS.get(word.toLowerCase());
