/**
 * A document as comma-separated values, one line for each fact, sentence and cell, so that every figure keeps its unit, ±, ground and place and
 * all documents have the same columns.
 */
import { csv as write } from '../../reports/csv';
import type { Place } from '../../text/place';
import type { Block, Cell } from '../model';
import { type Format, footOf, type Setting } from './format';

const COLUMNS = [
  'document',
  'section',
  'block',
  'row',
  'column',
  'text',
  'value',
  'unit',
  '± (k = 2)',
  'ground',
  'file',
  'line',
];

type Line = readonly (string | number | undefined)[];

export const csv: Format = (document, setting) => {
  const lines: Line[] = [
    ...document.facts.map(({ label, cell, place }, at) => [
      '',
      1,
      at + 1,
      label,
      ...cellsOf(cell),
      ...placeOf(place, setting),
    ]),
    ...document.sections.flatMap(({ title, blocks }) =>
      blocks.flatMap((block, at) => linesOf(block, setting).map((line) => [title, at + 1, ...line])),
    ),
    ...footOf(setting).map(
      (text, at): Line => ['journal', 1, at + 1, '', ...cellsOf({ text }), ...placeOf(undefined, setting)],
    ),
  ];
  return write(
    COLUMNS,
    lines.map((line) => [document.title, ...line]),
  );
};

const linesOf = (block: Block, setting: Setting): readonly Line[] => {
  if (block.form === 'sentences')
    return block.sentences.map(({ text, place }, at) => [at + 1, '', ...cellsOf({ text }), ...placeOf(place, setting)]);
  if (block.form === 'picture')
    return [[1, 'picture', ...cellsOf({ text: block.says }), ...placeOf(undefined, setting)]];
  return block.rows.flatMap(({ cells, place }, row) =>
    cells.flatMap((cell, column) =>
      cell.text === '' && !cell.figure
        ? []
        : [[row + 1, block.columns[column]!.head, ...cellsOf(cell), ...placeOf(place, setting)]],
    ),
  );
};

/** Figures go as plain digits: a minus before a number begins no formula. */
const cellsOf = ({ text, figure, ground }: Cell): Line => [
  text,
  figure && Number(figure.value),
  figure?.unit,
  figure?.plusMinus === undefined ? undefined : Number(figure.plusMinus),
  ground,
];

const placeOf = (place: Place | undefined, { where }: Setting): Line => {
  if (!place) return [undefined, undefined];
  const { file, line } = where(place);
  return [file, line];
};
