/** Balances of weight, findings, and money. */
import { throughput } from '../engine/step';
import { uncertainty } from '../quantity/measured';
import { findingsOf } from '../rules/findings';
import { linesOf } from '../workspace/lines';
import { locate } from '../workspace/workspace';
import { counting } from './keys';
import { column, type Row, type TidyTable } from './schema';

export const balances: TidyTable = {
  name: 'balances',
  means: 'The balance of weight of each step.',
  columns: [
    column('entry', 'text', 'the step'),
    column('day', 'day', 'of the step'),
    column('verb', 'text', 'kind of step'),
    column('series', 'text', 'steps whose losses teach of each other'),
    column('went_g', 'decimal', 'all that went in, grams'),
    column('came_g', 'decimal', 'all that came out and was weighed, grams'),
    column('gas_g', 'decimal', 'given off by fluxes, grams'),
    column('unaccounted_g', 'decimal', 'positive is missing; none of an open balance'),
    column('unaccounted_u_g', 'decimal', 'standard uncertainty, grams'),
    column('verdict', 'text', 'closed, usual, high, gain, solved or open'),
    column('usual_low_g', 'decimal', 'usually lost, grams'),
    column('usual_high_g', 'decimal', 'usually lost at most, grams'),
    column('usual_from', 'text', 'built-in, workshop or history'),
  ],
  key: ['entry'],
  refers: { entry: 'entries' },
  rows: function* ({ shop, workspace: { pages, book }, keys }): Iterable<Row> {
    const seen = new Set<object>();
    for (const { entries } of pages.values()) {
      for (const entry of entries) {
        const step = entry.prefix ? undefined : book.step(entry);
        if (!step || seen.has(step)) continue;
        seen.add(step);
        const came = step.outputs.reduce((so, { mass }) => so + (mass?.value.toNumber() ?? 0), 0);
        yield {
          shop,
          entry: keys.ofEntry(entry),
          day: entry.date,
          verb: entry.verb,
          series: step.alike,
          went_g: throughput(step),
          came_g: came,
          gas_g: step.gas.value,
          unaccounted_g: step.unaccounted?.value,
          unaccounted_u_g: step.unaccounted && uncertainty(step.unaccounted),
          verdict: step.verdict,
          usual_low_g: step.usual?.low,
          usual_high_g: step.usual?.high,
          usual_from: step.usual?.from,
        };
      }
    }
  },
};

export const findings: TidyTable = {
  name: 'findings',
  means: 'What is found to be wrong or doubtful; what is accepted with a reason is not among them.',
  columns: [
    column('finding', 'text', 'page, code, where; a number where that repeats'),
    column('page', 'text', 'file, below the folder of the journal'),
    column('line_number', 'integer', 'counted from 1'),
    column('entry', 'text', 'in which it stands; none outside of entries'),
    column('code', 'text', 'of the rule'),
    column('severity', 'text', 'error, warning or hint'),
    column('says', 'text', 'the sentence'),
    column('unsure', 'boolean', 'rests on a guess'),
  ],
  key: ['finding'],
  refers: { entry: 'entries' },
  rows: function* ({ shop, workspace, keys }): Iterable<Row> {
    const counter = counting();
    const files = [...workspace.pages.keys(), ...(workspace.workshopFile ? [workspace.workshopFile.file] : [])];
    for (const file of files) {
      for (const { place, code, severity, says, unsure } of findingsOf(workspace, file)) {
        const entry = keys.ofAnchor(place.anchor);
        yield {
          shop,
          finding: counter(`${entry ?? keys.ofPage(file)}/${code}`),
          page: keys.ofPage(file),
          line_number: linesOf(workspace, file).positionOf(locate(workspace, place).start).line,
          entry,
          code,
          severity,
          says,
          unsure: unsure ?? false,
        };
      }
    }
  },
};

export const sales: TidyTable = {
  name: 'sales',
  means: 'Money: bought, sold, offered, settled, quoted; one row an amount.',
  columns: [
    column('sale', 'text', 'its entry, and what the amount is'),
    column('entry', 'text', 'where it stands'),
    column('day', 'day', 'of the entry'),
    column('verb', 'text', 'receive, sell, offer, settle, quote'),
    column('lot', 'text', 'the lot, or the shipment'),
    column('party', 'text', 'with whom'),
    column('item', 'text', 'bought, for, charge, price, total'),
    column('of_what', 'text', 'the charge or the metal'),
    column('amount', 'decimal', 'money'),
    column('currency', 'text', 'code of three capitals'),
    column('per', 'text', 'unit of mass of a rate; none of a sum'),
  ],
  key: ['sale'],
  refers: { entry: 'entries', lot: 'lots' },
  rows: function* ({ shop, workspace: { pages }, keys }): Iterable<Row> {
    const counter = counting();
    for (const { entries } of pages.values()) {
      for (const entry of entries) {
        if (entry.prefix === 'plan' || entry.prefix === 'void' || entry.broken) continue;
        const key = keys.ofEntry(entry);
        const items = [
          ...(entry.money ? [{ item: 'for', what: undefined, money: entry.money }] : []),
          ...entry.others.flatMap(({ word, names, reading, money }) =>
            money ? [{ item: word, what: names[0]?.name ?? reading?.metals[0]?.symbol.name, money }] : [],
          ),
        ];
        for (const { item, what, money } of items) {
          yield {
            shop,
            sale: counter(`${key}/${[item, what].filter(Boolean).join(' ')}`),
            entry: key,
            day: entry.date,
            verb: entry.verb,
            lot: entry.name?.name,
            party: entry.party?.name,
            item,
            of_what: what,
            amount: money.digits.value,
            currency: money.currency,
            per: money.per?.symbol,
          };
        }
      }
    }
  },
};
