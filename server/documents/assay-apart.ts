/** Words on the shares of one metal, held against the figure that is used: how far apart, and in how many of its ±. */
import { shareOf } from '../engine/accounts/assays';
import { type Inexact, inexact, minus, spread } from '../engine/accounts/inexact';
import type { MetalGround } from '../engine/accounts/known';
import type { Entry, Reading } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { element } from '../vocabulary/elements';
import type { Workspace } from '../workspace/workspace';
import { percent, typed } from './cells';
import {
  type Cell,
  type Column,
  NOTHING,
  type Row,
  type Section,
  says,
  section,
  sentences,
  table,
  words,
} from './model';

/** Somebody's word on a share: an assay, a claim, a stamp, a settlement. */
export interface Word {
  readonly whose: string;
  readonly by: string;
  readonly entry: Entry;
  readonly shares: ReadonlyMap<string, Inexact>;
  /** Shares as they were written, of a word that tells nothing of how sure it is: the ± of its last place would make it surer than any assay. */
  readonly written?: ReadonlyMap<string, string>;
}

/** What all of it is held against. */
interface Used {
  readonly share?: Inexact | undefined;
  readonly ground: MetalGround;
}

const COLUMNS: readonly Column[] = [
  { head: 'metal' },
  { head: 'whose' },
  { head: 'by' },
  { head: 'day' },
  { head: 'found', right: true },
  { head: 'from the figure used', right: true },
  { head: 'in units of its ±', right: true },
];

/** Nothing where no metal has as many words as it wants: two, or one against what several lots come to. */
export const apartSection = (
  workspace: Workspace,
  title: string,
  all: readonly Word[],
  used: ReadonlyMap<string, Used>,
  wanted = 2,
): readonly Section[] => {
  const metals = [...new Set(all.flatMap(({ shares }) => [...shares.keys()]))].filter((metal) => element(metal));
  const rows = metals.flatMap((metal): readonly Row[] => {
    const told = all.filter(({ shares }) => shares.has(metal));
    if (told.length < wanted) return [];
    const best = used.get(metal)?.share;
    return [
      ...told.map(
        ({ whose, by, entry, shares, written }): Row => ({
          cells: [
            words(metal),
            words(whose),
            words(by),
            words(entry.date),
            asWritten(percent(shares.get(metal)!), written?.get(metal)),
            ...apart(shares.get(metal)!, best),
          ],
          place: entry.head,
        }),
      ),
      ...(best
        ? [
            {
              cells: [words(metal), words('the figure used'), NOTHING, NOTHING, percent(best, used.get(metal)!.ground)],
              total: true,
            } as const,
          ]
        : []),
    ];
  });
  return rows.length === 0 ? [] : section(title, table(COLUMNS, rows), splitting(workspace, all));
};

const asWritten = (cell: Cell, written: string | undefined): Cell => (written ? { ...cell, text: written } : cell);

/** What somebody said, without telling how sure it is. */
export const said = (reading: Reading, label: string): Pick<Word, 'shares' | 'written'> => ({
  shares: sharesIn(reading, label),
  written: new Map(reading.metals.map(({ symbol, amount }) => [symbol.name, typed(amount)])),
});

const sharesIn = ({ metals }: Reading, label: string): ReadonlyMap<string, Inexact> =>
  new Map(
    metals.flatMap(({ symbol, amount }): [string, Inexact][] => {
      const [first] = shareOf(amount);
      return first ? [[symbol.name, inexact(first.value, first.u, { label })]] : [];
    }),
  );

/** Less than a tenth of the ± tells nothing. */
const LEAST_TIMES = 0.05;

const apart = (of: Inexact, best: Inexact | undefined): readonly Cell[] => {
  if (!best) return [NOTHING, NOTHING];
  const difference = minus(of, best);
  const u = Math.max(spread(of), spread(difference));
  const points = 100 * difference.value;
  const times = u > 0 ? Math.abs(difference.value) / (2 * u) : 0;
  const shown = Number(points.toFixed(2));
  return [
    {
      text: `${shown > 0 ? '+' : ''}${shown === 0 ? '0' : decimal(shown).toFixed(2)} points`,
      figure: { value: decimal(points).toFixed(4), unit: '%' },
    },
    {
      text: times < LEAST_TIMES ? '0' : showDigits(decimal(times), 2),
      figure: { value: decimal(times).toFixed(3), unit: '1' },
    },
  ];
};

/** The limits that the parties to these assays agreed on. */
const splitting = (workspace: Workspace, all: readonly Word[]) => {
  const parties = new Set(all.flatMap(({ entry }) => entry.party?.name ?? []));
  const agreed = [...parties].flatMap((name) => {
    const terms = workspace.workshop.parties.get(name)?.terms.at(-1);
    return terms && terms.splitting.size > 0
      ? [
          says(
            `With ${name}, assays farther apart than ${[...terms.splitting].map(([metal, share]) => `${metal} ${share.times(100).toFixed()} points`).join(', ')} go to an umpire.`,
            terms.place,
          ),
        ]
      : [];
  });
  return sentences(agreed);
};
