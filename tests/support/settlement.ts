/** One lot shipped and settled, and what of its settlement differs. */
import { settlementsIn } from '../../server/workspace/selling/settlements';
import type { Workspace } from '../../server/workspace/workspace';

/** Lines that differ, each with what it costs. */
export const differing = (workspace: Workspace): string[] =>
  settlementsIn(workspace).flatMap(({ name, checked }) =>
    checked.lines
      .filter(({ verdict }) => verdict === 'differs')
      .map(({ subject, of, owed }) => `${name} ${subject}${of ? ` ${of}` : ''} ${owed?.amount}`),
  );

/** `TERMS` stands for what else was agreed. */
export const TERMS_SHOP = `parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        splitting: { Au: 0.10 % }
        TERMS
`;

/** 100 g of our own 90 %; `assays` are others of it, `settled` is theirs of the sheet. */
export const settledPage = (assays: string, settled: string): string => `2026-05-04
receive A 100.00 g
assay A by fire at beck-lab, corrected
  Au 90.00 ±0.02 % expanded
${assays}
quote Au 2500.00 USD/ozt
ship V1 to quay-refiner
  in A 100.00 g
2026-05-11
settle V1
  received 100.00 g
  Au ${settled}
  pays Au 98 %, price Au 2500.00 USD/ozt
`;
