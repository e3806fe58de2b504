/** What is owed to a customer in metal, and what they owe for the work: lot by lot, and together for lots that were worked together. */
import type { TollMetal } from '../engine/selling/toll';
import { billSays } from '../reports/selling/bill';
import { NO_OFFER } from '../reports/selling/sum';
import { isPooled, isSold, proceedsSays, tollFeeRows, tollMetalHeads, tollSays } from '../reports/selling/toll';
import { billsOf } from '../workspace/selling/bills';
import { headOf } from '../workspace/selling/consigned';
import { proceedsOf } from '../workspace/selling/proceeds';
import { type Toll, tollsOf } from '../workspace/selling/tolls';
import type { Workspace } from '../workspace/workspace';
import { coins, grams } from './cells';
import { type Choice, isWithin } from './choice';
import { type Cell, NOTHING, type Row, type Section, says, section, sentences, table, words } from './model';

/** Of lots that came in within the period, as the whole record has them now. */
export const tollSections = (workspace: Workspace, party: string, choice: Choice): readonly Section[] =>
  tollsOf(workspace, party)
    .filter(({ receivedOn }) => isWithin(choice, receivedOn))
    .flatMap((toll) => accountSection(workspace, toll));

const accountSection = (workspace: Workspace, toll: Toll): readonly Section[] =>
  section(
    `Account of ${toll.name}`,
    sentences([
      ...[...tollSays(toll), ...proceedsSays(toll, proceedsOf(workspace, toll), billsOf(workspace, toll))].map((text) =>
        says(text),
      ),
      ...billsOf(workspace, toll).flatMap((bill) => billSays(bill).map((text) => says(text, headOf(bill.sale).head))),
    ]),
    table(
      tollMetalHeads(toll).map((head, at) => ({ head, right: at > 0 })),
      toll.metals.map((one) => metalRow(one, toll)),
    ),
    table([{ head: 'the work' }, { head: 'costs', right: true }], feeRows(toll)),
    toll.fee && sentences([says(NO_OFFER)]),
  );

const metalRow = (of: TollMetal, { metals }: Toll): Row => {
  const ground = of.guessed ? 'guessed' : undefined;
  return {
    cells: [
      words(of.metal),
      grams(of.received, ground),
      ...(metals.some(isPooled) ? [grams(of.pooled, ground)] : []),
      due(of, ground),
      grams(of.returned),
      ...(metals.some(isSold) ? [grams(of.sold)] : []),
      grams(of.onHand),
      grams(of.residues),
      grams(of.owed, of.share === undefined ? undefined : ground),
    ],
  };
};

/** With the share that was agreed. */
const due = ({ due: of, share, bought }: TollMetal, ground: string | undefined): Cell => {
  if (bought) return words('bought');
  if (share === undefined) return grams(of);
  const cell = grams(of, ground);
  return { ...cell, text: `${cell.text} (${Number((100 * share).toFixed(6))} %)` };
};

const feeRows = (toll: Toll): readonly Row[] =>
  tollFeeRows(toll).map(({ left }, at): Row => {
    const charge = toll.charges[at];
    if (charge) return { cells: [words(left), coins(charge.cost)] };
    return { cells: [words(left), toll.fee ? coins(toll.fee) : NOTHING], total: true };
  });
