/** Small numbers are said to be small. */
import { type Sentence, says } from '../model';

/** From fewer than this nothing fine is read. */
const FEW = 8;

export const fewWords = (count: number, one: string, several = `${one}s`): readonly Sentence[] =>
  count > 0 && count < FEW
    ? [
        says(
          count === 1
            ? `One ${one} is few: read nothing fine into it.`
            : `${count} ${several} are few: read nothing fine into them.`,
        ),
      ]
    : [];
