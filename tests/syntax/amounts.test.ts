/** Every way to write an amount, as the tree holds it. */
import { describe, expect, test } from 'vitest';
import type { AmountNode, PieceNode, Value } from '../../server/syntax/tree';
import { pageOf, problemsOf } from '../support/fixture';

const pieceOf = (line: string): PieceNode => pageOf(`receive A\n  ${line}`).page.sections[0]!.lines[1]!.pieces[0]!;

const amountOf = (written: string): AmountNode & { was?: Value } => {
  const value = pieceOf(written).values[0];
  if (value?.shape !== 'amount') throw new Error(`no amount: ${written}`);
  return value;
};

const summary = (written: string): string => {
  const { form, parts, unit, guessed, gross, spread, states } = amountOf(written);
  return [
    ...(gross ? ['gross'] : []),
    ...(guessed ? ['guessed'] : []),
    form,
    parts.map(({ text }) => text).join(' & '),
    unit?.text ?? '-',
    ...(spread ? [`${spread.meaning} ${spread.half.text} ${spread.half.unit?.text ?? '-'}`] : []),
    ...states.map(({ text }) => text),
  ].join(' ');
};

describe('amounts', () => {
  test.each([
    ['58.16 g', 'reading 58.16 g'],
    ['58.16g', 'reading 58.16 g'],
    ['1.35 L', 'reading 1.35 L'],
    ['58.2 ±0.3 g', 'reading 58.2 g limits 0.3 g'],
    ['58.2 +-0.3 g', 'reading 58.2 g limits 0.3 g'],
    ['58.2 g ±0.3 g', 'reading 58.2 g limits 0.3 g'],
    ['58.2 ±0.3 g expanded', 'reading 58.2 g expanded 0.3 g'],
    ['58.2 ±0.3 g standard', 'reading 58.2 g standard 0.3 g'],
    ['~60 g', 'guessed reading 60 g'],
    ['~ 60 g', 'guessed reading 60 g'],
    ['~20 + 38 g', 'guessed sum 20 & 38 g'],
    ['? g', 'unknown  g'],
    ['?', 'unknown  -'],
    ['none', 'none  -'],
    ['nd', 'not-determined  -'],
    ['<0.01 g', 'below 0.01 g'],
    ['>99.9 g', 'above 99.9 g'],
    ['22..30 g', 'range 22 & 30 g'],
    ['22 .. 30 g', 'range 22 & 30 g'],
    ['20.11 + 38.05 g', 'sum 20.11 & 38.05 g'],
    ['20.11 g + 38.05 g', 'sum 20.11 & 38.05 g'],
    ['20.11+38.05+1 g', 'sum 20.11 & 38.05 & 1 g'],
    ['58.16 / 58.15 / 58.17 g', 'repeats 58.16 & 58.15 & 58.17 g'],
    ['58.16/58.15 g', 'repeats 58.16 & 58.15 g'],
    ['gross 238.42 g', 'gross reading 238.42 g'],
    ['gross ~238 g', 'gross guessed reading 238 g'],
    ['58.16 g hot', 'reading 58.16 g hot'],
    ['58.16 g clean dry', 'reading 58.16 g clean dry'],
    ['58.16 ±0.02 g wet', 'reading 58.16 g limits 0.02 g wet'],
    ['2 spoon', 'reading 2 spoon'],
  ])('%s', (written, expected) => {
    expect(summary(written)).toBe(expected);
    expect(problemsOf(pageOf(`receive A\n  ${written}`))).toEqual([]);
  });

  test('mixed units stay with their numbers', () => {
    expect(amountOf('1 ozt + 3 dwt').parts.map(({ unit }) => unit?.text)).toEqual(['ozt', 'dwt']);
  });

  test('a scale is said of the amount, wherever the kind stands', () => {
    for (const line of ['out B 2 g on bench button', 'out B 2 g button on bench', 'out 2 g on bench B button']) {
      const page = pageOf(`melt M1\n  ${line}`);
      expect(problemsOf(page), line).toEqual([]);
      const [piece] = page.page.sections[0]!.lines[1]!.pieces;
      expect(piece!.scale?.text).toBe('bench');
      expect(piece!.filled.map((value) => value?.shape)).toEqual(['word', 'amount', 'word']);
    }
  });

  test('a state may stand behind the kind', () => {
    const page = pageOf('dry R9\n  out R8d 64.40 g sponge dry on bench');
    expect(problemsOf(page)).toEqual([]);
    expect(page.entries[0]!.flows[0]!.amount!.states).toEqual(['dry']);
  });

  test('a correction: the new value, then the old', () => {
    expect(amountOf('61.73 g was 61.37 g').was).toMatchObject({ shape: 'amount', parts: [{ text: '61.37' }] });
    expect(amountOf('none was 60 g')).toMatchObject({ form: 'none', was: { parts: [{ text: '60' }] } });
    const [flow] = pageOf('melt M1\n  in B57 was B58').page.sections[0]!.lines[1]!.pieces;
    expect(flow!.filled[0]).toMatchObject({ word: { text: 'B57' }, was: { word: { text: 'B58' } } });
    const assay = pageOf('assay A by xrf\n  Au 91.2 % was 92.1 %, Ag 8 %');
    expect(problemsOf(assay)).toEqual([]);
    expect(assay.entries[0]!.readings[0]!.reading.metals[0]!.amount.was?.figure).toMatchObject({
      digits: { text: '92.1' },
    });
  });

  test('money, and rates per any mass', () => {
    for (const [line, currency, per] of [
      ['quote Au 2480.00 USD/ozt', 'USD', 'ozt'],
      ['quote Ag 0.93 EUR/g', 'EUR', 'g'],
      ['quote EUR 1.08 USD', 'USD', undefined],
    ] as const) {
      const page = pageOf(line);
      expect(problemsOf(page), line).toEqual([]);
      expect(page.page.sections[0]!.lines[0]!.pieces[0]!.filled[1]).toMatchObject({ shape: 'money', currency });
      expect(page.entries[0]!.money?.per?.symbol).toBe(per);
    }
  });
});
