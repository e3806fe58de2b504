/** Gear of the workshop: scales, vessels, crucibles, moulds, cupels, furnaces; each with what the workshop file says of it. */
import type { Workshop } from '../../engine/workshop';
import { decimal, toPlain } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { showSize } from '../../reports/figures';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import type { SlotTakes } from '../../vocabulary/slots';
import { undeclared } from './word';

interface ThingKind {
  readonly what: string;
  readonly section: string;
  /** What is known of one, as short sayings; none where it is not declared. */
  readonly facts: (workshop: Workshop, name: string) => readonly (string | undefined)[] | undefined;
}

const grams = (value: { toString(): string } | undefined, what: string): string | undefined =>
  value === undefined ? undefined : `${what} ${String(value)} g`;

const KINDS: ReadonlyMap<SlotTakes, ThingKind> = new Map<SlotTakes, ThingKind>([
  ['scale', { what: 'a scale', section: 'scales', facts: (workshop, name) => scaleFacts(workshop, name) }],
  [
    'container',
    {
      what: 'a vessel',
      section: 'containers',
      facts: ({ containers }, name) => {
        const found = containers.get(name);
        const u =
          found && found.tareUncertaintyGrams > 0
            ? ` ±${showDigits(decimal(2 * found.tareUncertaintyGrams), 1)} g`
            : '';
        return found && [found.tareGrams ? `tare ${toPlain(found.tareGrams)} g${u}` : 'tare not stated'];
      },
    },
  ],
  [
    'crucible',
    {
      what: 'a crucible',
      section: 'crucibles',
      facts: ({ crucibles }, name) => {
        const found = crucibles.get(name);
        return found && [volume(found.volumeMillilitres), found.material, grams(found.weightGrams, 'weighs')];
      },
    },
  ],
  [
    'mould',
    {
      what: 'a mould',
      section: 'moulds',
      facts: ({ moulds }, name) => {
        const found = moulds.get(name);
        return found && [volume(found.volumeMillilitres)];
      },
    },
  ],
  [
    'cupel-body',
    {
      what: 'a cupel',
      section: 'cupels',
      facts: ({ cupels }, name) => {
        const found = cupels.get(name);
        return found && [found.material, grams(found.weightGrams, 'weighs')];
      },
    },
  ],
  [
    'furnace',
    {
      what: 'a furnace',
      section: 'furnaces',
      facts: ({ furnaces }, name) => {
        const found = furnaces.get(name);
        const power = found?.powerWatts === undefined ? undefined : `${showSize(found.powerWatts / 1000)} kW`;
        const highest = found?.highestCelsius === undefined ? undefined : `up to ${showSize(found.highestCelsius)} °C`;
        return found && [power, highest, found.heating];
      },
    },
  ],
]);

const volume = (millilitres: number | undefined): string | undefined =>
  millilitres === undefined ? undefined : `${showSize(millilitres)} mL`;

const scaleFacts = ({ scales }: Workshop, name: string): readonly (string | undefined)[] | undefined => {
  const scale = scales.get(name);
  return (
    scale && [
      scale.division ? `division ${toPlain(scale.division)} g` : 'division not stated',
      scale.repeatability === undefined ? undefined : `repeats to ${showSize(scale.repeatability)} g`,
      scale.permissibleError === undefined ? undefined : `held to ±${showSize(scale.permissibleError)} g`,
      scale.capacity && `up to ${toPlain(scale.capacity)} g`,
      scale.smallest && `from ${toPlain(scale.smallest)} g`,
    ]
  );
};

/** None for a name of another kind. */
export const thingMarkdown = (workshop: Workshop, takes: SlotTakes, name: string): string | undefined => {
  const kind = KINDS.get(takes);
  if (!kind) return undefined;
  const facts = kind.facts(workshop, name);
  if (!facts) return undeclared(name, kind.what, kind.section);
  const known = facts.filter((fact) => fact !== undefined && fact !== '');
  const said = known.length > 0 ? escapeMarkdown(known.join(', ')) : 'nothing stated';
  return paragraphs(
    `**${escapeMarkdown(name)}** · ${said}`,
    `${kind.what[0]!.toUpperCase()}${kind.what.slice(1)}, from the workshop file.`,
  );
};
