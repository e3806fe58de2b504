/** `fineweight picture`: one picture of the record, as SVG. */
import { type PictureQuestion, pictureOf } from '../pictures/pictures';
import { visible } from '../text/visible';
import type { Outcome } from './check';
import type { Opened } from './journals';
import { UsageError } from './options';
import { proofPaths } from './proofs';
import { writeNew } from './write';

export interface PictureOptions {
  readonly question: PictureQuestion;
  /** A new file; without one the picture goes to standard output. */
  readonly out: string | undefined;
  readonly overwrite: boolean;
}

/** Throws a UsageError on what is not there, and where the file cannot be written. */
export const picture = ({ journals, failures }: Opened, { question, out, overwrite }: PictureOptions): Outcome => {
  const [journal, ...others] = journals;
  if (!journal) return { text: '', exit: 2 };
  if (others.length > 0) throw new UsageError('These paths are of several journals; a picture is of one.');
  const made = pictureOf(journal.workspace, question);
  if (typeof made === 'string') throw new UsageError(visible(made));
  const exit = failures.length > 0 ? 2 : 0;
  if (out === undefined) return { text: made.svg, exit };
  const proofs = proofPaths(journal.workspace);
  writeNew({ path: out, text: made.svg, ending: 'svg', overwrite, proofs, root: journal.workspace.root });
  return { text: '', exit };
};
