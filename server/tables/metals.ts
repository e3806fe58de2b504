/** Lots with what they hold, assays, and the account of each metal. */
import { assayed } from '../engine/accounts/assays';
import { isOnHand } from '../engine/accounts/cupels';
import { spread } from '../engine/accounts/inexact';
import { COMES_IN } from '../engine/accounts/moves';
import { segmentsOf } from '../engine/accounts/segments';
import { uncertainty } from '../quantity/measured';
import { accountsOf } from '../workspace/accounts';
import { counting } from './keys';
import { column, type Row, type TableSource, type TidyTable } from './schema';

/** That the account is kept of; an assay of another is in `assays`. */
const ACCOUNTED = ['Au', 'Ag'] as const;

export const lots: TidyTable = {
  name: 'lots',
  means: 'Each lot at the end of the record.',
  columns: [
    column('lot', 'text', 'its name'),
    column('entry', 'text', 'that first speaks of it'),
    column('day', 'day', 'of that entry'),
    column('material', 'text', 'as it was received'),
    column('kind', 'text', 'of product'),
    column('owner', 'text', 'whose it is; several parted by a comma'),
    column('on_hand', 'boolean', 'it is, at the end of the record'),
    column('left_g', 'decimal', 'grams, of what is on hand'),
    column('left_u_g', 'decimal', 'standard uncertainty, grams'),
    column('left_ml', 'decimal', 'millilitres, of a liquid on hand'),
    column('place', 'text', 'where it was last said to be'),
    column('held_by', 'text', 'who has it'),
  ],
  key: ['lot'],
  refers: { entry: 'entries' },
  rows: function* ({ shop, workspace: { book, ...rest }, keys }): Iterable<Row> {
    const accounts = accountsOf({ book, ...rest });
    const holdings = new Map(accounts.stock().map((holding) => [holding.lot, holding]));
    for (const lot of book.lotNames()) {
      const story = book.lot(lot)!;
      const [first] = story.events;
      const holding = holdings.get(lot);
      const last = segmentsOf(story).all.at(-1);
      yield {
        shop,
        lot,
        entry: first && keys.ofEntry(first.entry),
        day: first?.entry.date,
        material: story.make?.material,
        kind: story.make?.kind,
        owner: last && accounts.namesOf(accounts.ownedOn(last)).join(', '),
        on_hand: holding !== undefined,
        left_g: holding?.unit === 'gram' ? holding.amount?.value : undefined,
        left_u_g: holding?.unit === 'gram' && holding.amount ? uncertainty(holding.amount) : undefined,
        left_ml: holding?.unit === 'millilitre' ? holding.amount?.value : undefined,
        place: holding?.at?.name,
        held_by: holding?.with?.name,
      };
    }
  },
};

export const contents: TidyTable = {
  name: 'contents',
  means: 'Each metal of each lot on hand at the end of the record, by the best that is known.',
  columns: [
    column('lot', 'text', 'its name'),
    column('metal', 'text', 'chemical symbol; Au+Ag for both together'),
    column('fine_g', 'decimal', 'grams; none where only bounds are known'),
    column('fine_u_g', 'decimal', 'standard uncertainty, grams'),
    column('low_g', 'decimal', 'no less'),
    column('high_g', 'decimal', 'no more'),
    column('ground', 'text', 'assayed, inferred, carried or guessed'),
  ],
  key: ['lot', 'metal'],
  refers: { lot: 'lots' },
  rows: function* ({ shop, workspace }): Iterable<Row> {
    for (const { lot, fine } of accountsOf(workspace).stock()) {
      for (const { metal, grams, lowGrams, highGrams, known } of fine) {
        yield {
          shop,
          lot,
          metal,
          fine_g: grams?.value,
          fine_u_g: grams && spread(grams),
          low_g: lowGrams,
          high_g: highGrams,
          ground: known.ground,
        };
      }
    }
  },
};

export const assays: TidyTable = {
  name: 'assays',
  means: 'Each metal that an assay or a settlement gives: the mean of its determinations.',
  columns: [
    column('entry', 'text', 'the assay'),
    column('metal', 'text', 'chemical symbol'),
    column('day', 'day', 'of the assay'),
    column('lot', 'text', 'that was assayed, or the shipment that was settled'),
    column('method', 'text', 'fire, xrf, density, …'),
    column('party', 'text', 'by whom, where not by us'),
    column('share', 'decimal', 'mass fraction; none where only bounds are known'),
    column('share_u', 'decimal', 'standard uncertainty'),
    column('low', 'decimal', 'no less, mass fraction'),
    column('high', 'decimal', 'no more, mass fraction'),
    column('determinations', 'integer', 'how many were written'),
  ],
  key: ['entry', 'metal'],
  refers: { entry: 'entries', lot: 'lots' },
  rows: function* ({ shop, workspace, keys }): Iterable<Row> {
    for (const { entries } of workspace.pages.values()) {
      for (const entry of entries) {
        if (entry.verb !== 'assay' && entry.verb !== 'settle') continue;
        for (const [metal, { share, low, high }] of assayed(entry)) {
          yield {
            shop,
            entry: keys.ofEntry(entry),
            metal,
            day: entry.date,
            lot: entry.name?.name,
            method: entry.method?.name,
            party: entry.party?.name,
            share: share?.value,
            share_u: share && spread(share),
            low,
            high: Number.isFinite(high) ? high : undefined,
            determinations: entry.readings.length,
          };
        }
      }
    }
  },
};

export const movements: TidyTable = {
  name: 'movements',
  means: 'Each coming and going of gold and silver: what the lines of the metal account are the sums of.',
  columns: [
    column('movement_key', 'text', 'metal, entry and lot'),
    column('metal', 'text', 'chemical symbol'),
    column('movement', 'text', 'received, returned, found, added, shipped, sold, discarded, assayed, missing'),
    column('comes_in', 'boolean', 'into the account, not out of it'),
    column('day', 'day', 'on which it counts'),
    column('entry', 'text', 'that it was booked by'),
    column('lot', 'text', 'none of metal from the shelf and of used cupels'),
    column('fine_g', 'decimal', 'grams; none where not known'),
    column('fine_u_g', 'decimal', 'standard uncertainty; what rows share adds up, so the account knows its sum better'),
    column('guessed', 'boolean', 'rests on a guess'),
  ],
  key: ['movement_key'],
  refers: { entry: 'entries', lot: 'lots' },
  rows: function* ({ shop, workspace, keys }: TableSource): Iterable<Row> {
    const counter = counting();
    for (const metal of ACCOUNTED) {
      for (const { movement, lot, entry, date, grams, guessed } of accountsOf(workspace).movements(metal)) {
        const key = keys.ofEntry(entry);
        yield {
          shop,
          movement_key: counter(`${metal}/${key}/${lot ?? movement}`),
          metal,
          movement,
          comes_in: COMES_IN.has(movement),
          day: date || undefined,
          entry: key,
          lot,
          fine_g: grams?.value,
          fine_u_g: grams && spread(grams),
          guessed,
        };
      }
    }
  },
};

export const cupels: TidyTable = {
  name: 'used_cupels',
  means:
    'Each metal that a used cupel is reckoned to hold. What the account leaves over: movements that come in, less those that go out, less contents, less used cupels on hand.',
  columns: [
    column('entry', 'text', 'the cupellation'),
    column('cupel', 'text', 'its name'),
    column('metal', 'text', 'chemical symbol'),
    column('day', 'day', 'of the cupellation'),
    column('on_hand', 'boolean', 'it is, at the end of the record'),
    column('gone', 'day', 'from which it is thrown away, or a lot of its own'),
    column('fine_g', 'decimal', 'grams, a guess; none where only bounds are known'),
    column('fine_u_g', 'decimal', 'standard uncertainty, grams'),
  ],
  key: ['entry', 'cupel', 'metal'],
  refers: { entry: 'entries' },
  rows: function* ({ shop, workspace, keys }): Iterable<Row> {
    for (const cupel of accountsOf(workspace).allCupels()) {
      for (const { metal, grams } of cupel.fine) {
        yield {
          shop,
          entry: keys.ofEntry(cupel.entry),
          cupel: cupel.name,
          metal,
          day: cupel.entry.date,
          on_hand: isOnHand(cupel, undefined),
          gone: cupel.gone?.date,
          fine_g: grams?.value,
          fine_u_g: grams && spread(grams),
        };
      }
    }
  },
};

export const metalLosses: TidyTable = {
  name: 'metal_losses',
  means:
    'Gold and silver over each step whose metal is known on both sides: what the losses of the metal account are the sums of.',
  columns: [
    column('entry', 'text', 'the step'),
    column('metal', 'text', 'chemical symbol'),
    column('day', 'day', 'of the step'),
    column('verb', 'text', 'kind of step'),
    column('went_g', 'decimal', 'charged, grams'),
    column('came_g', 'decimal', 'in its products, grams'),
    column('cupels_g', 'decimal', 'reckoned to be in its used cupels, grams'),
    column('lost_g', 'decimal', 'went less came less cupels, grams'),
    column('lost_u_g', 'decimal', 'standard uncertainty, grams'),
  ],
  key: ['entry', 'metal'],
  refers: { entry: 'entries' },
  rows: function* ({ shop, workspace, keys }): Iterable<Row> {
    for (const metal of ACCOUNTED) {
      for (const { step, went, came, cupels, lost } of accountsOf(workspace).stepLosses(metal)) {
        yield {
          shop,
          entry: keys.ofEntry(step.entry),
          metal,
          day: step.entry.date,
          verb: step.entry.verb,
          went_g: went.value,
          came_g: came.value,
          cupels_g: cupels.value,
          lost_g: lost.value,
          lost_u_g: spread(lost),
        };
      }
    }
  },
};
