/** A unit: what it is, in the base unit, from where. */

import type { Workshop } from '../../engine/workshop';
import { toPlain } from '../../quantity/decimal';
import { type UnitKind, unit } from '../../quantity/units';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';

const BASE: Readonly<Record<UnitKind, string>> = {
  mass: 'g',
  volume: 'mL',
  time: 'min',
  temperature: '°C',
  proportion: 'of the mass',
};

export const unitMarkdown = ({ measures }: Workshop, symbol: string): string => {
  const row = unit(symbol);
  const title = `**${escapeMarkdown(symbol)}**`;
  if (!row) {
    const grams = measures.get(symbol);
    if (!grams) return `${title} · no unit of the language, and no measure of the workshop file`;
    return paragraphs(
      `${title} · a measure of this shop, about ${toPlain(grams)} g`,
      'What is measured so is a guess.',
    );
  }
  if (row.kind !== 'temperature' && row.factor.equals(1)) return `${title} · ${escapeMarkdown(row.meaning)}`;
  const size = row.parts
    ? `1/${toPlain(row.parts)} of the mass`
    : row.kind === 'temperature' && row.symbol.endsWith('F')
      ? '(x − 32) · 5/9 °C'
      : `${toPlain(row.factor)} ${BASE[row.kind]}`;
  return paragraphs(
    `${title} · ${escapeMarkdown(row.meaning)}`,
    `1 ${escapeMarkdown(symbol)} = ${size}, exactly. ${escapeMarkdown(row.source)}.`,
  );
};
