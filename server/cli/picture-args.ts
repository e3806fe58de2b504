/** What `fineweight picture` asks for. */
import { PICTURES, type PictureKind, type PictureQuestion } from '../pictures/pictures';
import { GROUPINGS } from '../reports/history/history';
import { metalOption, oneOf, parsed, periodOptions, UsageError, unknownWords } from './options';

export interface PictureCommand {
  readonly command: 'picture';
  readonly paths: readonly string[];
  readonly question: PictureQuestion;
  readonly out: string | undefined;
  readonly overwrite: boolean;
}

const OPTIONS = {
  metal: { type: 'string' },
  by: { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  lot: { type: 'string' },
  step: { type: 'string' },
  party: { type: 'string' },
  out: { type: 'string' },
  overwrite: { type: 'boolean' },
} as const;

type Choice = Exclude<keyof typeof OPTIONS, 'out' | 'overwrite'>;

/** What each picture may be asked beside its kind. */
const TAKES: Readonly<Record<PictureKind, readonly Choice[]>> = {
  flow: ['metal', 'lot', 'from', 'to'],
  unaccounted: ['metal', 'from', 'to'],
  recovery: ['metal', 'by', 'from', 'to'],
  loss: ['by', 'from', 'to'],
  stock: ['metal', 'from', 'to'],
  assays: ['metal', 'party', 'from', 'to'],
  heat: ['step'],
};

/** Throws a UsageError. */
export const readPicture = (args: readonly string[]): PictureCommand => {
  const { values, positionals } = parsed(args, OPTIONS);
  const [word, ...paths] = positionals;
  if (word === undefined) throw new UsageError(`\`fineweight picture\` wants what to draw: ${PICTURES.join(', ')}.`);
  const kind = PICTURES.find((one) => one === word);
  if (!kind) throw new UsageError(unknownWords('picture', word, PICTURES));
  const strange = [...values.keys()].find(
    (name) => name !== 'out' && name !== 'overwrite' && !TAKES[kind].some((one) => one === name),
  );
  if (strange !== undefined)
    throw new UsageError(`${kind} takes no --${strange}; it takes ${TAKES[kind].map((one) => `--${one}`).join(', ')}.`);
  const by = values.get('by');
  return {
    command: 'picture',
    paths: paths.length > 0 ? paths : ['.'],
    question: {
      kind,
      metal: metalOption(values),
      by: by === undefined ? undefined : oneOf('--by', by, GROUPINGS),
      ...periodOptions(values),
      lot: values.get('lot'),
      step: values.get('step'),
      party: values.get('party'),
    },
    out: values.get('out'),
    overwrite: values.has('overwrite'),
  };
};
