/** `fineweight account`: what came in, what left, what is on hand, and what of each metal is left over. */

import { type Inexact, spread } from '../engine/accounts/inexact';
import { COMES_IN } from '../engine/accounts/moves';
import type { PeriodAccount } from '../engine/accounts/period';
import { showQuantity } from '../quantity/show';
import {
  BETWEEN,
  inFirst,
  limitWords,
  lineWords,
  lossLines,
  MOVEMENT_WORDS,
  sizeOf,
  unknownWords,
} from '../reports/account';
import { guessesOn, guessesSay } from '../reports/by-products';
import { correctedNote, isOfTime, type Mended, mendedIn } from '../reports/corrections';
import { csv } from '../reports/csv';
import { asMeasured, isNothing } from '../reports/fine';
import { visible } from '../text/visible';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import type { OptionsOf } from './args';
import type { Outcome } from './check';
import { correctionsJson } from './corrections';
import type { Opened } from './journals';
import type { Paint } from './paint';
import { table } from './table';

export type AccountOptions = OptionsOf<'account'>;

const METALS: readonly string[] = ['Au', 'Ag'];

export const account = ({ journals, failures }: Opened, options: AccountOptions): Outcome => {
  const { from, to, format, paint } = options;
  const metals = options.metal === undefined ? METALS : [options.metal];
  const all = journals.map(({ workspace }) => ({
    workspace,
    accounts: metals.map((metal) => accountsOf(workspace).period(metal, from, to)),
  }));
  const text =
    format === 'text'
      ? all.map(({ workspace, accounts }) => asText(workspace, accounts, options, paint)).join('\n')
      : format === 'json'
        ? `${JSON.stringify(allJson(all, isOfTime(options)), null, 2)}\n`
        : csv(
            CSV_COLUMNS,
            all.flatMap(({ workspace, accounts }) => {
              const corrected = mendedIn(workspace).filter(isOfTime(options)).length;
              return accounts.flatMap((one) => csvRows(one).map((row) => [...row, corrected]));
            }),
          );
  return { text, exit: failures.length > 0 ? 2 : 0 };
};

const allJson = (
  all: readonly { readonly workspace: Workspace; readonly accounts: readonly PeriodAccount[] }[],
  restsOn: (mended: Mended) => boolean,
) => ({
  version: 1,
  journals: all.map(({ accounts }) => accounts.map(asJson)),
  corrections: all.flatMap(({ workspace }) => correctionsJson(workspace, restsOn)),
});

const asText = (
  workspace: Workspace,
  accounts: readonly PeriodAccount[],
  { from, to }: AccountOptions,
  paint: Paint,
): string => {
  const when = `${from === undefined ? 'from the first day' : `from ${from}`} ${to === undefined ? 'to the last' : `to ${to}`}`;
  const head = paint('bold', `${visible(workspace.workshop.shop.name ?? 'The shop')}, metal account ${when}`);
  const note = correctedNote(workspace, isOfTime({ from, to }));
  return `${head}\n\n${accounts.map((one) => `${metalText(one, paint)}${guessText(workspace, one.metal, to)}`).join('\n')}${note ? `\n${note}\n` : ''}`;
};

const guessText = (workspace: Workspace, metal: string, to: string | undefined): string => {
  const guesses = guessesOn(accountsOf(workspace), metal, to);
  return guesses ? `${visible(guessesSay(guesses))}\n` : '';
};

const grams = (of: Inexact): string => (isNothing(of) ? '0 g' : showQuantity(asMeasured(of), 'g'));

const metalText = (of: PeriodAccount, paint: Paint): string => {
  const rows = [
    ['  on hand before', grams(of.opening), unknownWords(of.unknownOpening, 'lot')],
    ...cupelRow('  in used cupels before', of.cupelsOpening),
    ...inFirst(of.lines).map((line) => [
      `${COMES_IN.has(line.movement) ? '+ ' : '- '}${MOVEMENT_WORDS[line.movement]}`,
      grams(line.grams),
      lineWords(line),
    ]),
    ['- on hand after', grams(of.closing), unknownWords(of.unknownClosing, 'lot')],
    ...cupelRow('- in used cupels after', of.cupelsClosing),
    [`= ${of.unaccounted.value < 0 ? 'too much' : 'unaccounted for'}`, grams(sizeOf(of.unaccounted)), limitWords(of)],
    ...lossLines(of).map(({ verb, count, grams: lost, isUntold }) => [
      `    of it ${verb === undefined ? BETWEEN : `in ${verb}`}`,
      grams({ ...lost, value: of.unaccounted.value < 0 ? -lost.value : lost.value }),
      `${count} ${nounFor(verb, count)}${isUntold ? ', not known where it came out' : ''}`,
    ]),
  ];
  const [, ...lines] = table([{ head: '' }, { head: '', right: true }, { head: '' }], rows);
  return [paint('bold', of.metal), ...lines.map(visible), ''].join('\n');
};

const nounFor = (verb: string | undefined, count: number): string =>
  `${verb === undefined ? 'time' : 'step'}${count === 1 ? '' : 's'}`;

/** Reckoned, so a guess; none where no cupel is on hand. */
const cupelRow = (word: string, held: Inexact): string[][] =>
  held.value > 0 ? [[word, showQuantity(asMeasured(held, true), 'g'), 'a guess']] : [];

const figure = (of: Inexact) => ({ grams: of.value, plusMinus: 2 * spread(of) });

const asJson = (of: PeriodAccount) => ({
  metal: of.metal,
  opening: figure(of.opening),
  movements: of.lines.map(({ movement, grams: moved, guessedGrams, count, unknown }) => ({
    movement,
    comesIn: COMES_IN.has(movement),
    ...figure(moved),
    guessedGrams,
    count,
    unknown,
  })),
  closing: figure(of.closing),
  usedCupelsOpening: figure(of.cupelsOpening),
  usedCupelsClosing: figure(of.cupelsClosing),
  unaccounted: figure(of.unaccounted),
  steps: of.steps.map(({ verb, count, grams: lost }) => ({ verb, count, ...figure(lost) })),
  untold: of.untold.map(({ verb, count, grams: went }) => ({ verb, count, ...figure(went) })),
  changed: { count: of.changed.count, ...figure(of.changed.grams) },
  unknownOpening: of.unknownOpening,
  unknownClosing: of.unknownClosing,
});

const CSV_COLUMNS = ['metal', 'line', 'g', '± g (k = 2)', 'entries', 'not known', 'corrected'];

const csvRows = (of: PeriodAccount) => {
  const row = (line: string, one: Inexact, count?: number, unknown?: number) => [
    of.metal,
    line,
    one.value,
    2 * spread(one),
    count,
    unknown,
  ];
  return [
    row('opening', of.opening, undefined, of.unknownOpening),
    ...of.lines.map((line) => row(line.movement, line.grams, line.count, line.unknown)),
    row('closing', of.closing, undefined, of.unknownClosing),
    row('used cupels at the opening', of.cupelsOpening),
    row('used cupels at the closing', of.cupelsClosing),
    row('unaccounted', of.unaccounted),
    ...of.steps.map(({ verb, count, grams: lost }) => row(`lost in ${verb}`, lost, count)),
    ...(of.changed.count > 0 ? [row(BETWEEN, of.changed.grams, of.changed.count)] : []),
    ...of.untold.map(({ verb, count, grams: went }) => row(`not known after ${verb}`, went, count)),
  ];
};
