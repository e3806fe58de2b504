/**
 * Colours for editors that know the language only by patterns. Made from the vocabulary. Every pattern takes linear time on any line: no
 * repeat stands within a repeat, and a run of name characters or digits is entered at its start alone.
 */
import { UNITS } from '../quantity/units';
import { DETAILS, REMARKS } from '../vocabulary/details';
import { ELEMENTS } from '../vocabulary/elements';
import { VERBS } from '../vocabulary/verbs';
import { AMOUNT_WORDS, EVENTS, KIND_WORDS, KINDS, LEAD_WORDS, METHODS, PREFIXES, STATES } from '../vocabulary/words';

export interface Pattern {
  readonly name?: string;
  readonly contentName?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly while?: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
  readonly beginCaptures?: Readonly<Record<string, { readonly name: string }>>;
  readonly endCaptures?: Readonly<Record<string, { readonly name: string }>>;
  readonly patterns?: readonly Pattern[];
  readonly include?: string;
}

export interface Grammar {
  readonly name?: string;
  readonly scopeName: string;
  readonly fileTypes: readonly string[];
  readonly injectionSelector?: string;
  readonly patterns: readonly Pattern[];
  readonly repository: Readonly<Record<string, Pattern>>;
}

const NAME_CHARACTER = '[\\p{L}\\p{M}\\p{Nd}_./-]';
const NOT_INSIDE = `(?<!${NAME_CHARACTER})`;
const NOT_GOING_ON = '(?![\\p{L}\\p{M}\\p{Nd}_-])';

const escaped = (word: string): string => word.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');

/** Longest first, so that no word hides a longer one. */
const anyOf = (words: Iterable<string>): string =>
  `(?:${[...new Set(words)]
    .sort((a, b) => b.length - a.length || (a < b ? -1 : 1))
    .map(escaped)
    .join('|')})`;

const wordsOf = (rows: readonly { readonly word: string }[]): string => anyOf(rows.map(({ word }) => word));

/** Words of the language, in any case. */
const words = (name: string, alternatives: string): Pattern => ({
  name,
  match: `(?i)${NOT_INSIDE}${alternatives}${NOT_GOING_ON}`,
});

const UNIT = anyOf(UNITS.map(({ symbol }) => symbol));
const DATE = '\\d{4}-\\d{2}-\\d{2}';
const TIME = '\\d{1,2}:\\d{2}';
const NUMBER = '\\d+(?:\\.\\d+)?';

/** `In` and `At` are words of the language first; single letters are names of lots. */
const SYMBOLS = anyOf(
  ELEMENTS.map(({ symbol }) => symbol).filter((symbol) => symbol.length > 1 && !/^(In|At)$/.test(symbol)),
);

/** Details and remarks that are not running text. */
const DETAIL_WORDS = wordsOf(DETAILS);
const REMARK_WORDS = wordsOf(REMARKS.filter(({ word }) => word !== 'note' && word !== 'because'));
const LEADS = anyOf([...LEAD_WORDS].filter((word) => word !== 'on' && word !== 'at' && word !== 'to'));

/** `client/melt.tmLanguage.json`. */
export const meltGrammar = (): Grammar => ({
  name: 'Melt journal',
  scopeName: 'source.melt',
  fileTypes: ['melt'],
  patterns: ['merge', 'comment', 'day', 'head', 'clock', 'seal', 'piece'].map((name) => ({ include: `#${name}` })),
  repository: {
    merge: { name: 'keyword.other.merge.melt', match: '^(?:<{7}|\\|{7}|={7}|>{7})(?=\\s|$).*$' },
    comment: { name: 'comment.line.number-sign.melt', match: '(?:^|(?<=\\s))#(?=\\s|$).*$' },
    day: {
      name: 'meta.day.melt',
      begin: `^(${DATE})(?=\\s|$)`,
      end: '$',
      beginCaptures: { 1: { name: 'markup.heading.day.melt' } },
      contentName: 'string.unquoted.day.melt',
      patterns: [{ include: '#comment' }],
    },
    head: {
      match: `(?i)^\\ufeff?(?:(${wordsOf(PREFIXES)})[ \\t]+)?(${wordsOf(VERBS.filter(({ word }) => word !== 'note'))})(?=[\\s,]|$)`,
      captures: { 1: { name: 'storage.modifier.prefix.melt' }, 2: { name: 'keyword.control.verb.melt' } },
    },
    clock: {
      begin: `^[ \\t]+(?:(${DATE})[ \\t]+)?(${TIME})(?=\\s|$)`,
      end: '$',
      beginCaptures: { 1: { name: 'constant.other.date.melt' }, 2: { name: 'constant.other.time.melt' } },
      contentName: 'string.unquoted.clock.melt',
      patterns: [
        { include: '#comment' },
        words('keyword.other.event.melt', wordsOf(EVENTS)),
        words('keyword.other.event.melt', '(?:into)'),
        ...['number', 'unit'].map((name) => ({ include: `#${name}` })),
      ],
    },
    // The beginnings of digests are no figures.
    seal: {
      match: `(?i)^[ \\t]+(marks)[ \\t]+(${DATE}|[a-z]+)[ \\t]+([0-9a-f][0-9a-f \\t]*[0-9a-f])`,
      captures: {
        1: { name: 'keyword.other.detail.melt' },
        2: { name: 'constant.other.date.melt' },
        3: { name: 'constant.other.digest.melt' },
      },
    },
    piece: {
      patterns: [
        'text',
        'string',
        'date',
        'bad-number',
        'name',
        'number',
        'unit',
        'money',
        'symbol',
        'word',
        'mark',
      ].map((name) => ({ include: `#${name}` })),
    },
    text: {
      begin: `(?i)${NOT_INSIDE}(note|because)(?=\\s|$)`,
      end: '$',
      beginCaptures: { 1: { name: 'keyword.other.remark.melt' } },
      contentName: 'string.unquoted.text.melt',
      patterns: [{ include: '#comment' }],
    },
    string: { name: 'string.quoted.double.melt', match: '"[^"]*(?:"|$)' },
    date: { name: 'constant.other.date.melt', match: `${NOT_INSIDE}${DATE}${NOT_GOING_ON}` },
    'bad-number': { name: 'invalid.illegal.number.melt', match: `${NOT_INSIDE}\\d+,\\d[\\d,.]*` },
    // A name that begins with a digit, unless all of it is a figure with its unit.
    name: { match: `${NOT_INSIDE}(?!${NUMBER}${UNIT}${NOT_GOING_ON})\\d[\\d./-]*[\\p{L}_]${NAME_CHARACTER}*` },
    number: { name: 'constant.numeric.melt', match: `(?:${NOT_INSIDE}|(?<=\\.\\.|\\d/))${NUMBER}` },
    unit: { name: 'keyword.other.unit.melt', match: `(?<=[\\d?]|[\\d?][ \\t])${UNIT}${NOT_GOING_ON}` },
    money: { name: 'constant.other.currency.melt', match: `(?<=\\d|\\d[ \\t])[A-Z]{3}(?:/${UNIT})?${NOT_GOING_ON}` },
    symbol: { name: 'support.constant.metal.melt', match: `${NOT_INSIDE}${SYMBOLS}${NOT_GOING_ON}` },
    word: {
      patterns: [
        words('constant.language.absent.melt', '(?:none|nd)'),
        words('keyword.other.amount.melt', anyOf([...AMOUNT_WORDS].filter((word) => word !== 'none' && word !== 'nd'))),
        // A bead and a cornet are products, and at the start of a detail what a fire assay weighed.
        {
          match: `(?i)(?:^[ \\t]+|,[ \\t]*)(${wordsOf(DETAILS.filter(({ word }) => KIND_WORDS.has(word)))})${NOT_GOING_ON}`,
          captures: { 1: { name: 'keyword.other.detail.melt' } },
        },
        words('storage.type.kind.melt', wordsOf(KINDS)),
        words('keyword.other.detail.melt', DETAIL_WORDS),
        words('keyword.other.remark.melt', REMARK_WORDS),
        words('constant.language.state.melt', wordsOf(STATES)),
        words('support.function.method.melt', wordsOf(METHODS)),
        words('keyword.operator.lead.melt', LEADS),
      ],
    },
    mark: { name: 'keyword.operator.melt', match: '\\.\\.|\\+-|[±~?<>+/]' },
  },
});

/** `client/melt-in-markdown.tmLanguage.json`: fenced blocks of `melt` in Markdown. */
export const markdownGrammar = (): Grammar => ({
  scopeName: 'markdown.melt.codeblock',
  fileTypes: [],
  injectionSelector: 'L:text.html.markdown',
  patterns: [{ include: '#fence' }],
  repository: {
    fence: {
      name: 'markup.fenced_code.block.markdown',
      begin: '(^|\\G)([ \\t]*)(`{3,}|~{3,})[ \\t]*((?i:melt))(?=[\\s,{:?]|$)([^`]*)$',
      end: '(^|\\G)(\\2|[ \\t]{0,3})(\\3)[ \\t]*$',
      beginCaptures: {
        3: { name: 'punctuation.definition.markdown' },
        4: { name: 'fenced_code.block.language.markdown' },
        5: { name: 'fenced_code.block.language.attributes.markdown' },
      },
      endCaptures: { 3: { name: 'punctuation.definition.markdown' } },
      patterns: [
        {
          begin: '(^|\\G)([ \\t]*)(.*)',
          while: '(^|\\G)(?![ \\t]*([`~]{3,})[ \\t]*$)',
          contentName: 'meta.embedded.block.melt',
          patterns: [{ include: 'source.melt' }],
        },
      ],
    },
  },
});

/** A grammar as the text of its file. */
export const grammarText = (grammar: Grammar): string => `${JSON.stringify(grammar, undefined, 2)}\n`;
