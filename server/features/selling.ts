/** What is worked out for an entry of selling, as Markdown: one text for the tooltip and the hover. */
import type { Entry } from '../engine/entry';
import { mendedSays } from '../reports/corrections';
import { brokenLines, escapeMarkdown, fenced, paragraphs } from '../reports/markdown';
import { belowSays, soldBelowSays } from '../reports/selling/below';
import { BILL_HEADS, billCells, billSays } from '../reports/selling/bill';
import { refiningSays } from '../reports/selling/routes';
import { lineCells, settledSays, settledSum, settledSumHead } from '../reports/selling/settled';
import { NO_OFFER } from '../reports/selling/sum';
import { proceedsSays, tollSays } from '../reports/selling/toll';
import { soldSays, worthSays, worthSum } from '../reports/selling/worth';
import { billOf, billsOf } from '../workspace/selling/bills';
import { offerOf, shipmentWorth, type Worth } from '../workspace/selling/offers';
import { proceedsOf } from '../workspace/selling/proceeds';
import { routesOf } from '../workspace/selling/routes';
import { salesOf } from '../workspace/selling/sales';
import { settlementOf } from '../workspace/selling/settlements';
import { soldOf } from '../workspace/selling/sold';
import { type Toll, tollOf } from '../workspace/selling/tolls';
import type { Workspace } from '../workspace/workspace';

/** None for an entry of which there is nothing to reckon. */
export const sellingMarkdown = (workspace: Workspace, entry: Entry): string | undefined => {
  const settlement = settlementOf(workspace, entry);
  const mended = sentences(mendedSays(salesOf(workspace).of(entry)?.parts ?? []));
  if (settlement) {
    return paragraphs(
      mended,
      sentences(settledSays(settlement)),
      fenced(columns([['', 'theirs', 'ours', '', ''], ...lineCells(settlement)])),
      `${settledSumHead(settlement)}:`,
      fenced(settledSum(settlement)),
      NO_OFFER,
    );
  }
  const bill = billOf(workspace, entry);
  if (bill) {
    return paragraphs(
      mended,
      sentences([...billSays(bill), ...tollSays(bill.toll), ...soldForThem(workspace, bill.toll)]),
      fenced(columns([[...BILL_HEADS], ...billCells(bill)])),
      NO_OFFER,
    );
  }
  const offer = offerOf(workspace, entry);
  const sold = soldOf(workspace, entry);
  const worth = offer?.worth ?? shipmentWorth(workspace, entry) ?? sold?.worth;
  const toll = !worth && entry.verb === 'ship' && entry.name ? tollOf(workspace, entry.name.name) : undefined;
  if (toll) return paragraphs(mended, sentences([...tollSays(toll), ...soldForThem(workspace, toll)]));
  if (!worth) return mended === '' ? undefined : mended;
  return paragraphs(
    mended,
    sold && sentences(soldSays(sold)),
    worthMarkdown(worth),
    offer?.below && sentences([belowSays(offer.worth.terms!, offer.below)]),
    sold?.below && sentences([soldBelowSays(sold.worth.terms!, sold.below)]),
    offer && refiningMarkdown(workspace, offer.lot.lot),
    offer?.byTerms && paragraphs('By the terms on file:', fenced(worthSum(offer.byTerms))),
    NO_OFFER,
  );
};

const soldForThem = (workspace: Workspace, toll: Toll): readonly string[] =>
  proceedsSays(toll, proceedsOf(workspace, toll), billsOf(workspace, toll));

/** Of a lot that is still on hand: what more work would bring. */
const refiningMarkdown = (workspace: Workspace, lot: string): string | undefined => {
  const routes = routesOf(workspace, lot);
  return typeof routes === 'string' || !routes.refining ? undefined : sentences(refiningSays(routes.refining));
};

const worthMarkdown = (worth: Worth): string => paragraphs(sentences(worthSays(worth)), fenced(worthSum(worth)));

const sentences = (of: readonly string[]): string => brokenLines(of.map(escapeMarkdown));

const columns = (rows: readonly (readonly string[])[]): readonly string[] => {
  const widths = rows[0]!.map((_, at) => Math.max(...rows.map((row) => (row[at] ?? '').length)));
  return rows.map((row) =>
    row
      .map((cell, at) => cell.padEnd(widths[at]!))
      .join('  ')
      .trimEnd(),
  );
};
