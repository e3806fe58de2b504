/** `workshop.yaml` as a checked value: what is right in it is used, what is not is said at its place. */
import {
  DEFAULT_LIMITS,
  type Limits,
  NO_WORKSHOP,
  type ReportSettings,
  type Shop,
  type Workshop,
} from '../engine/workshop';
import type { Decimal } from '../quantity/decimal';
import { type Anchor, type Place, placeIn } from '../text/place';
import type { Span } from '../text/span';
import { MATERIALS, material } from '../vocabulary/materials';
import { namedPairs, readFields } from './fields';
import { SECTION_NAMES, type SectionName, sectionRow } from './keys';
import { readMaterials, readRecipes } from './mixtures';
import { readParties } from './parties';
import { Report, type WorkshopProblem } from './problem';
import { type Reading, reportUnknownKey, reportValue } from './reading';
import { largestLoad, readContainers, readCrucibles, readCupels, readFurnaces, readMoulds, readScales } from './things';
import { type Item, type MapItem, readTree } from './tree';
import { READERS } from './values';

/** One section as it stands in the file, for the outline. */
export interface OutlineSection {
  readonly section: SectionName;
  /** Its key. */
  readonly at: Place;
  /** From its key to the end of what it holds. */
  readonly whole: Place;
  readonly names: readonly { readonly name: string; readonly at: Place; readonly whole: Place }[];
}

export interface WorkshopDocument {
  readonly file: string;
  readonly text: string;
  readonly workshop: Workshop;
  /** In the order of the text. */
  readonly problems: readonly WorkshopProblem[];
  /** Where each name is declared. */
  readonly names: ReadonlyMap<SectionName, ReadonlyMap<string, Place>>;
  readonly outline: readonly OutlineSection[];
}

/** Reads the text of a workshop file. Never throws; a file that cannot be read declares nothing. */
export const readWorkshop = (file: string, text: string): WorkshopDocument => {
  const anchor: Anchor = { file };
  const report = new Report(anchor);
  const tree = readTree(text, report);
  if (!tree) return { file, text, workshop: NO_WORKSHOP, problems: report.problems, names: new Map(), outline: [] };
  const unreadable = report.problems.length;
  const sections = sectionsOf(tree, report);
  const workshop = workshopOf(sections, report);
  const outline = outlineOf(tree, anchor);
  const names = new Map(outline.map((of) => [of.section, new Map(of.names.map(({ name, at }) => [name, at]))]));
  return { file, text, workshop, problems: inOrder(report.problems, unreadable, text), names, outline };
};

const sectionsOf = (tree: MapItem, report: Report): ReadonlyMap<SectionName, Item> => {
  const sections = new Map<SectionName, Item>();
  for (const { key, at, value } of tree.pairs) {
    const row = sectionRow(key);
    if (!row) reportUnknownKey({ report, ...NOTHING_KNOWN }, at, key, 'section of a workshop file', SECTION_NAMES);
    else if (value) sections.set(row.section, value);
  }
  return sections;
};

const NOTHING_KNOWN = { isMaterial: () => false, materialNames: () => [] };

const workshopOf = (sections: ReadonlyMap<SectionName, Item>, report: Report): Workshop => {
  const alone: Reading = { report, ...NOTHING_KNOWN };
  const materials = readMaterials(sections.get('materials'), alone);
  const reading: Reading = {
    report,
    isMaterial: (name) => materials.declared.has(name) || material(name) !== undefined,
    materialNames: () => [...materials.declared, ...MATERIALS.map((row) => row.name)],
  };
  const scales = readScales(sections.get('scales'), reading);
  return {
    shop: readShop(sections.get('shop'), reading),
    scales,
    containers: readContainers(sections.get('containers'), reading, largestLoad(scales)),
    crucibles: readCrucibles(sections.get('crucibles'), reading),
    moulds: readMoulds(sections.get('moulds'), reading),
    cupels: readCupels(sections.get('cupels'), reading),
    furnaces: readFurnaces(sections.get('furnaces'), reading),
    materials: materials.materials,
    recipes: readRecipes(sections.get('recipes'), reading),
    parties: readParties(sections.get('parties'), reading),
    measures: readMeasures(sections.get('measures'), reading),
    hands: readHands(sections.get('hands'), reading),
    limits: readLimits(sections.get('limits'), reading),
    reports: readReports(sections.get('reports'), reading),
    declared: true,
  };
};

const readShop = (item: Item | undefined, reading: Reading): Shop => {
  const fields = readFields('shop', item, reading);
  return {
    name: fields.get('name', 'text'),
    address: fields.get('address', 'text'),
    currency: fields.get('currency', 'currency'),
    labour: fields.get('labour', 'wage'),
    overhead: fields.get('overhead', 'monthly sum'),
    interest: fields.get('interest', 'share'),
  };
};

const readMeasures = (item: Item | undefined, reading: Reading): ReadonlyMap<string, Decimal> => {
  const measures = new Map<string, Decimal>();
  for (const { key, value } of namedPairs('measures', item, reading)) {
    const grams = value && READERS.mass(value, reading);
    if (grams) measures.set(key, grams);
  }
  return measures;
};

const readHands = (item: Item | undefined, reading: Reading): ReadonlyMap<string, string> => {
  const hands = new Map<string, string>();
  for (const { key, value } of namedPairs('hands', item, reading)) {
    hands.set(key, (value && READERS.text(value, reading)) ?? key);
  }
  return hands;
};

const readLimits = (item: Item | undefined, reading: Reading): Limits => {
  const fields = readFields('limits', item, reading);
  const fill = fields.get('fill', 'share range');
  const none = fill?.high === 0;
  if (none) reportValue(reading, fields.at('fill')!, 'A crucible that may not be filled at all is none.');
  return {
    coverage: fields.get('coverage', 'coverage') ?? DEFAULT_LIMITS.coverage,
    fill: fill && !none ? fill : DEFAULT_LIMITS.fill,
    silicateDegree: fields.get('silicate degree', 'degree'),
    usualLoss: fields.get('usual loss', 'losses') ?? DEFAULT_LIMITS.usualLoss,
    closure: fields.get('closure', 'share')?.toNumber(),
    cusumSlack: fields.get('cusum slack', 'slack'),
    cusumLimit: fields.get('cusum limit', 'deviations'),
    ewmaWeight: fields.get('ewma weight', 'newest share'),
    priceDays: fields.get('price age', 'days') ?? DEFAULT_LIMITS.priceDays,
  };
};

const readReports = (item: Item | undefined, reading: Reading): ReportSettings => {
  const fields = readFields('reports', item, reading);
  return {
    heading: fields.get('heading', 'text'),
    unit: fields.get('unit', 'mass unit'),
    paper: fields.get('paper', 'paper'),
  };
};

const outlineOf = (tree: MapItem, anchor: Anchor): readonly OutlineSection[] =>
  tree.pairs.flatMap(({ key, at, value }) => {
    const row = sectionRow(key);
    if (!row) return [];
    const pairs = row.holds !== 'keys' && value?.kind === 'map' ? value.pairs : [];
    const whole = (from: Span, to: Span | undefined): Place =>
      placeIn(anchor, { start: from.start, end: to?.end ?? from.end });
    const names = pairs.map((pair) => ({
      name: pair.key,
      at: placeIn(anchor, pair.at),
      whole: whole(pair.at, pair.value),
    }));
    return [{ section: row.section, at: placeIn(anchor, at), whole: whole(at, value), names }];
  });

/** In the order of the text; where a line cannot be read, nothing else is said of it. */
const inOrder = (
  problems: readonly WorkshopProblem[],
  unreadable: number,
  text: string,
): readonly WorkshopProblem[] => {
  const lineOf = (problem: WorkshopProblem): number => text.lastIndexOf('\n', problem.place.start - 1);
  const broken = new Set(
    problems
      .slice(0, unreadable)
      .filter((problem) => problem.code === 'workshop-unreadable')
      .map(lineOf),
  );
  return problems
    .filter((problem) => problem.code === 'workshop-unreadable' || !broken.has(lineOf(problem)))
    .sort((a, b) => a.place.start - b.place.start);
};
