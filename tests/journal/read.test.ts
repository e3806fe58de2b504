/** What a page means: how far remarks reach, what makes one determination, how products are named, when things were. */
import { describe, expect, test } from 'vitest';
import type { Amount, Entry } from '../../server/engine/entry';
import { pageOf, problemsOf } from '../support/fixture';

const entryOf = (text: string): Entry => {
  const page = pageOf(text);
  expect(problemsOf(page)).toEqual([]);
  return page.entries[0]!;
};

const figure = (amount: Amount | undefined): string | undefined =>
  amount?.figure?.form === 'reading' ? `${amount.figure.digits.text} ${amount.unit?.symbol}` : amount?.absent;

describe('a figure that is no number', () => {
  test('is not known: below nothing, or beyond any scale', () => {
    const [out] = pageOf('cupel K1\n  out B -5 g bead').entries[0]!.flows;
    expect(figure(out!.amount)).toBe('unknown');
    const [in_] = pageOf('cupel K1\n  in B 1e99 g').entries[0]!.flows;
    expect(figure(in_!.amount)).toBe('unknown');
  });

  test('but a slip that has one plain reading keeps it', () => {
    const [out] = pageOf('cupel K1\n  out B 5. g bead').entries[0]!.flows;
    expect(figure(out!.amount)).toBe('5 g');
  });
});

describe('the reach of remarks', () => {
  test('after a comma: of what stands before it on its line', () => {
    const { flows, said } = entryOf('melt M1\n  out B 2 g button, out S 3 g slag, keep\n  out D 1 g dust');
    expect(flows.map((flow) => flow.said.keep !== undefined)).toEqual([true, true, false]);
    expect(said.keep).toBeUndefined();
  });

  test('not of what stands behind it', () => {
    const { flows } = entryOf('melt M1\n  out B 2 g button, keep, out S 3 g slag, at yard');
    expect(flows.map((flow) => [flow.said.keep !== undefined, flow.said.at?.name])).toEqual([
      [true, 'yard'],
      [false, 'yard'],
    ]);
  });

  test('tare, before, after: of the piece just before', () => {
    const { flows } = entryOf(
      'part P1\n  add copper, before 412.3 g, after 388.2 g, add iron, before 20 g, after 18 g',
    );
    expect(flows.map((flow) => [figure(flow.said.before), figure(flow.said.after)])).toEqual([
      ['412.3 g', '388.2 g'],
      ['20 g', '18 g'],
    ]);
    const [first, second] = entryOf('melt M1\n  in A gross 20 g, in B gross 30 g, tare tray-2').flows;
    expect(first!.said.tare).toBeUndefined();
    expect(second!.said.tare).toMatchObject({ name: 'tray-2' });
  });

  test('on a line of its own, or on the first line: of all that say nothing themselves', () => {
    for (const text of [
      'sample H14\n  on fine\n  out A 2.014 g\n  out B 2.03 g on bench',
      'sample H14, on fine\n  out A 2.014 g\n  out B 2.03 g, on bench',
      'sample H14\n  out A 2.014 g\n  out B 2.03 g, on bench\n  on fine',
    ]) {
      const { flows, said } = entryOf(text);
      expect(said.scale?.name).toBe('fine');
      expect(flows[0]!.said.scale?.name).toBe('fine');
      expect((flows[1]!.amount?.scale ?? flows[1]!.said.scale)?.name).toBe('bench');
    }
  });

  test('who, proof and notes of an entry stay with the entry; those of a line with the line', () => {
    const { flows, said } = entryOf(
      'melt M1, hand AB\n  out B 2 g button, hand CD\n  out S 3 g slag, note glassy\n  note dull',
    );
    expect(said).toMatchObject({ hand: { name: 'AB' }, notes: ['dull'] });
    expect(flows.map((flow) => [flow.said.hand?.name, flow.said.notes])).toEqual([
      ['CD', undefined],
      [undefined, ['glassy']],
    ]);
  });

  test('every word that speaks of a line is read', () => {
    const { flows } = entryOf(
      'ship V1 to refiner\n  in A 2 g, at safe, to lab, due 2026-06-23, owner us, hold until 2026-05-11, pooled by assay, lent bank,' +
        ' repays, pieces 14, batch N3, sealed "0041", insured 40 USD, photo a.jpg, photo b.jpg, paper s.pdf, witness CD,' +
        ' discard, because old, and worn',
    );
    expect(flows[0]!.said).toMatchObject({
      at: { name: 'safe' },
      to: { name: 'lab' },
      due: '2026-06-23',
      owner: { name: 'us' },
      holdUntil: '2026-05-11',
      pooled: 'assay',
      lent: {},
      repays: {},
      pieces: { text: '14' },
      batch: { name: 'N3' },
      sealed: { name: '0041' },
      insured: { currency: 'USD' },
      photos: [{ name: 'a.jpg' }, { name: 'b.jpg' }],
      papers: [{ name: 's.pdf' }],
      witness: { name: 'CD' },
      discard: {},
      because: 'old, and worn',
    });
    const assay = entryOf('assay A by fire at lab, uncorrected, umpire\n  Au 72 %');
    expect(assay.said).toMatchObject({ corrected: false, umpire: true });
  });
});

describe('readings', () => {
  const metals = (text: string): string[][] =>
    entryOf(text).readings.map(({ reading }) =>
      reading.metals.map(({ symbol, amount }) => `${symbol.name} ${figure(amount)}`),
    );

  test('metals on one line are one determination, with commas or without', () => {
    expect(metals('assay A by xrf\n  Au 91.2 %  Ag 8.4 %, Cu 0.3 %\n  Au 91.5 %, Ag 8.2 %')).toEqual([
      ['Au 91.2 %', 'Ag 8.4 %', 'Cu 0.3 %'],
      ['Au 91.5 %', 'Ag 8.2 %'],
    ]);
  });

  test('on the first line too', () => {
    expect(metals('assay A by salt, Ag none, Au nd')).toEqual([['Ag none', 'Au not-determined']]);
  });

  test('behind expect, claim and stamp they go on with that', () => {
    for (const text of [
      'receive A\n  expect Au 25 %, Ag 8 %',
      'receive A, expect Au 25 % Ag 8 %',
      'receive A, claim Au 25 %, Ag 8 %',
    ]) {
      const { others, readings } = entryOf(text);
      expect(readings).toEqual([]);
      expect(others[0]!.reading?.metals.map(({ symbol }) => symbol.name)).toEqual(['Au', 'Ag']);
    }
  });

  test('a remark behind them speaks of the determination', () => {
    const { readings } = entryOf('assay A by fire at lab\n  Au 72.31 %, Ag 22 %, corrected\n  Au 72.4 %, uncorrected');
    expect(readings.map(({ said }) => said.corrected)).toEqual([true, false]);
  });
});

describe('flows', () => {
  test('products without a name are called after the entry and their kind', () => {
    const { flows } = entryOf(
      'melt M57\n  out 41 g slag\n  out 2 g slag\n  out 1 g\n  out 0.2 g prills\n  out none dust\n  out B 9 g bar',
    );
    expect(flows.map(({ lot }) => lot?.name)).toEqual([
      'M57.slag',
      'M57.slag-2',
      'M57.other',
      'M57.prills',
      undefined,
      'B',
    ]);
    expect(flows.map(({ none }) => none)).toEqual([false, false, false, false, true, false]);
  });

  test('an unnamed product of a `more` entry joins the lot of that name', () => {
    const page = pageOf('2026-05-04\nmelt M57\n  out 84 g slag\n2026-05-05\nmore melt M57\n  out 2 g slag');
    expect(page.entries.map(({ flows }) => flows[0]!.lot!.name)).toEqual(['M57.slag', 'M57.slag']);
    expect(page.byLot.get('M57.slag')).toHaveLength(2);
  });

  test('in: the whole, weighed again or not; or a part', () => {
    const { flows } = entryOf('melt M1\n  in A\n  in B 20 g\n  in 20 g of C\n  in D was E, because misread');
    expect(flows.map(({ lot, part, amount }) => [lot!.name, part, figure(amount)])).toEqual([
      ['A', false, undefined],
      ['B', false, '20 g'],
      ['C', true, '20 g'],
      ['D', false, undefined],
    ]);
  });

  test('the order of what may be left out is free', () => {
    const kinds = [
      'out B57 58.16 g button',
      'out B57 button 58.16 g',
      'out 58.16 g B57 button',
      'out button B57 58.16 g',
    ];
    for (const line of kinds) {
      const [flow] = entryOf(`melt M1\n  ${line}`).flows;
      expect([flow!.lot!.name, figure(flow!.amount), flow!.kind], line).toEqual(['B57', '58.16 g', 'button']);
    }
  });

  test('amounts on their own line, and gear', () => {
    const ship = entryOf('ship V1 to refiner\n  in A 54.73 g\n  gross 60.1 g, tare 5.37 g');
    expect(figure(ship.amount)).toBe('60.1 g');
    expect(ship.amounts[0]!.said.tare).toMatchObject({ figure: { digits: { text: '5.37' } } });
    const cupel = entryOf('cupel K1, cupel-body X, before 80.1 g, after 137 g, furnace F2\n  mould M');
    expect(cupel.gear.map(({ word, item }) => `${word} ${item.name}`)).toEqual([
      'cupel-body X',
      'furnace F2',
      'mould M',
    ]);
    expect(figure(cupel.gear[0]!.said.after)).toBe('137 g');
  });
});

describe('the head', () => {
  test('prefix, name, party, method, lot to, money, digest, date', () => {
    expect(entryOf('more melt M61 of 2026-06-03')).toMatchObject({
      prefix: 'more',
      name: { name: 'M61' },
      ofDate: '2026-06-03',
    });
    expect(entryOf('plan cupel K9')).toMatchObject({ prefix: 'plan', verb: 'cupel' });
    expect(entryOf('assay A by fire at north-lab')).toMatchObject({
      method: { name: 'fire' },
      party: { name: 'north-lab' },
    });
    expect(entryOf('relabel A to GRAIN-3')).toMatchObject({ name: { name: 'A' }, toLot: { name: 'GRAIN-3' } });
    expect(entryOf('sell A to refiner for 3804.74 USD')).toMatchObject({
      party: { name: 'refiner' },
      money: { currency: 'USD' },
    });
    expect(entryOf('seal 2026-05-31 digest ab12')).toMatchObject({ ofDate: '2026-05-31', digest: { name: 'ab12' } });
    expect(entryOf('count strongbox').said.at?.name).toBe('strongbox');
    expect(entryOf('check-scale fine 20 g, reads 20.001 g')).toMatchObject({ name: { name: 'fine' } });
    expect(entryOf('note furnace relined').said.notes).toEqual(['furnace relined']);
  });

  test('a day that is written otherwise is that day all the same, where it can be no other', () => {
    const datesOf = (day: string) => pageOf(`2026-05-03\nnote x\n${day}\nnote y\n`).entries.map(({ date }) => date);
    for (const day of ['2026-5-4', '4.5.2026', '4 May 2026', 'Mon, May 4th, 2026', 'Monday 2026-05-04'])
      expect(datesOf(day)).toEqual(['2026-05-03', '2026-05-04']);
    expect(datesOf('05/04/2026')).toEqual(['2026-05-03', undefined]);
  });

  test('an entry whose verb is not known is broken, and says so', () => {
    expect(pageOf('metl M1\n  in A').entries[0]).toMatchObject({ broken: true, verb: '' });
  });
});

describe('days and clock times', () => {
  test('an entry stands under the day above it, and takes over the last time', () => {
    const page = pageOf('note x\n2026-05-04\nmelt M1\n  09:52 charged\nnote y\n2026-05-05\nnote z');
    expect(page.entries.map(({ date, time }) => [date, time])).toEqual([
      [undefined, undefined],
      ['2026-05-04', '09:52'],
      ['2026-05-04', '09:52'],
      ['2026-05-05', undefined],
    ]);
  });

  test('a date written on a clock line holds for those below', () => {
    const { clocks } = entryOf(
      'melt M1\n  23:40 charged\n  2026-06-03 00:15 poured\n  0:40 off'
        .replace('melt', '2026-06-02\nmelt')
        .split('\n')
        .slice(1)
        .join('\n'),
    );
    expect(clocks.map(({ date, time }) => [date, time])).toEqual([
      [undefined, '23:40'],
      ['2026-06-03', '00:15'],
      ['2026-06-03', '00:40'],
    ]);
    const page = pageOf('2026-06-02\nmelt M1\n  23:40 charged\n  2026-06-03 00:15 poured\nnote next');
    expect(page.entries[0]!.clocks.map(({ date }) => date)).toEqual(['2026-06-02', '2026-06-03']);
    expect(page.entries[1]!.time).toBe('23:40');
  });

  test('events, a temperature and a mould are picked from the text', () => {
    const { clocks } = entryOf(
      'melt M1\n  10:53 Poured 1170 °C into cone-1, furnace off\n  10:10 -5 C outside, molten',
    );
    expect(clocks[0]).toMatchObject({
      events: ['poured', 'off'],
      temperature: { text: '1170' },
      mould: { name: 'cone-1' },
    });
    expect(entryOf('melt M1\n  10:53 poured into water').clocks[0]!.mould).toBeUndefined();
    expect(clocks[1]).toMatchObject({ events: ['molten'], temperature: { text: '-5' } });
  });
});

describe('merge conflicts', () => {
  const inside = {
    merge: '<<<<<<< ours\n  out B57 58 g\n=======\n  out B57 59 g\n>>>>>>> theirs\n',
    'with the common ancestor':
      '<<<<<<< ours\n  out B57 58 g\n||||||| base\n  out B57 57 g\n=======\n  out B57 59 g\n>>>>>>> theirs\n',
    'one side taken out': '<<<<<<< ours\n=======\n  out B57 59 g\n>>>>>>> theirs\n',
  };

  test.each(Object.entries(inside))(
    '%s: the entry that it cuts through is broken, its names are remembered',
    (_, block) => {
      const page = pageOf(`2026-05-04\nreceive A 60 g\nmelt M1\n  in A\n${block}  out S1 3 g slag\ndry D1\n  in B57`);
      expect(page.entries.map(({ verb, broken }) => [verb, broken])).toEqual([
        ['receive', false],
        ['melt', true],
        ['dry', false],
      ]);
      expect(problemsOf(page).map(({ code }) => code)).toEqual(['merge-marker']);
      expect([...page.mentions[0]!]).toEqual(expect.arrayContaining(['B57', 'S1']));
    },
  );

  test('only lines behind the block were indented', () => {
    const page = pageOf('melt M1\n<<<<<<< ours\nnote x\n=======\nnote y\n>>>>>>> theirs\n  in A');
    expect(page.entries[0]!.broken).toBe(true);
  });

  test('between entries nothing is cut', () => {
    const page = pageOf('melt M1\n  in A\n<<<<<<< ours\nnote x\n=======\nnote y\n>>>>>>> theirs\nmelt M2\n  in B');
    expect(page.entries.map(({ broken }) => broken)).toEqual([false, false]);
  });

  test('a marker without its end spoils itself alone', () => {
    const page = pageOf('melt M1\n  in A\n<<<<<<< ours\nmelt M2\n  in B\n=======\nmelt M3\n  in C');
    expect(page.entries.map(({ verb, broken }) => [verb, broken])).toEqual([
      ['melt', false],
      ['melt', false],
      ['melt', false],
    ]);
    expect(problemsOf(page).map(({ code }) => code)).toEqual(['merge-marker', 'merge-marker']);
  });
});

describe('an edit', () => {
  test('keeps the entries that it does not touch, and those whose day changed are read anew', () => {
    const before = pageOf('2026-05-04\nmelt M1\n  in A\nmelt M2\n  in B\n');
    const typed = pageOf('2026-05-04\nmelt M1\n  in A 2\nmelt M2\n  in B\n', before);
    expect(typed.entries[1]).toBe(before.entries[1]);
    expect(typed.entries[0]).not.toBe(before.entries[0]);
    const moved = pageOf('2026-05-05\nmelt M1\n  in A\nmelt M2\n  in B\n', before);
    expect(moved.entries.map(({ date }) => date)).toEqual(['2026-05-05', '2026-05-05']);
    const later = pageOf('2026-05-04\nmelt M1\n  09:00 charged\nmelt M2\n  in B\n', before);
    expect(later.entries[1]!.time).toBe('09:00');
  });
});
