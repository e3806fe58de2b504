/** A document as JSON: a stable shape. New fields may come; those here keep their names and meaning. */
import type { Place } from '../../text/place';
import type { Block, Cell, Row } from '../model';
import type { Format, Setting } from './format';

export const json: Format = (document, setting) => {
  const { kind, title, facts, sections } = document;
  const { heading, source } = setting;
  const shape = {
    version: 1,
    kind,
    title,
    heading: heading ?? null,
    facts: facts.map(({ label, cell, place }) => ({ label, ...cellJson(cell), ...placeJson(place, setting) })),
    sections: sections.map((one) => ({
      title: one.title,
      blocks: one.blocks.map((block) => blockJson(block, setting)),
    })),
    journal: {
      pages: source.pages,
      lastDay: source.lastDay ?? null,
      revision: source.revision ?? null,
      sha256: source.digest,
    },
  };
  return `${JSON.stringify(shape, null, 2)}\n`;
};

const blockJson = (block: Block, setting: Setting): object => {
  switch (block.form) {
    case 'sentences':
      return {
        form: 'sentences',
        sentences: block.sentences.map(({ text, place }) => ({ text, ...placeJson(place, setting) })),
      };
    case 'picture':
      return { form: 'picture', says: block.says, svg: block.svg };
    case 'table':
      return {
        form: 'table',
        columns: block.columns.map(({ head }) => head),
        rows: block.rows.map((row) => rowJson(row, setting)),
      };
  }
};

const rowJson = ({ cells, place, total, depth }: Row, setting: Setting): object => ({
  ...(total ? { total } : {}),
  ...(depth ? { depth } : {}),
  cells: cells.map(cellJson),
  ...placeJson(place, setting),
});

const cellJson = ({ text, figure, ground }: Cell): object => ({
  text,
  ...(figure
    ? {
        value: Number(figure.value),
        unit: figure.unit,
        ...(figure.plusMinus === undefined ? {} : { plusMinus: Number(figure.plusMinus) }),
      }
    : {}),
  ...(ground === undefined ? {} : { ground }),
});

const placeJson = (place: Place | undefined, { where }: Setting): object => (place ? where(place) : {});
