/**
 * Cautions of the trade as data: what sets them off, what they say, where they are from. They are general, they defer to
 * local codes and to licensed practice, and they are never a permission.
 */
import { BERINGER, FROM_MEMORY, ROSE } from './result';

/** What is known of a step or a plan, in plain words of the vocabulary. */
export interface Situation {
  /** Verbs and kinds of heat: `melt`, `cupel`, `roast`, `dissolve`, `part`, … */
  readonly verb?: string;
  /** Built-in names of what is there: materials, words such as `gas-furnace`, `mould`, `retort-sponge`. */
  readonly materials: ReadonlySet<string>;
  /** Elements and compounds known in it, by symbol or formula. */
  readonly substances: ReadonlySet<string>;
}

/** All named groups must be met; a group is met by any one of its words. */
export interface Trigger {
  readonly verbs?: readonly string[];
  readonly materials?: readonly string[];
  readonly substances?: readonly string[];
  /** A second material beside those of `materials`. */
  readonly with?: readonly string[];
}

export interface Caution {
  readonly code: string;
  /** Any one of them sets it off. */
  readonly triggers: readonly Trigger[];
  /** What hurts, and what is done about it: short sentences. */
  readonly says: string;
  /** Substances whose exposure limits go with it. */
  readonly limits: readonly string[];
  readonly source: string;
}

/** Stands under every caution and every list of them. */
export const DEFERS = 'A general caution: local codes and licensed practice come first, and it permits nothing.';

/** Verbs of open heat. */
export const HOT: readonly string[] = ['melt', 'cast', 'cupel', 'roast', 'burn'];
const ACID_WORK: readonly string[] = ['dissolve', 'part', 'drop'];

export const CAUTIONS: readonly Caution[] = [
  {
    code: 'lead-fume',
    triggers: [
      { verbs: ['cupel'] },
      { verbs: HOT, materials: ['lead', 'test-lead', 'litharge', 'red-lead'] },
      { verbs: HOT, substances: ['Pb', 'PbO', 'PbS'] },
    ],
    says: 'Lead and litharge fume poison slowly. Exhaust at the muffle, no food or drink, wash before leaving, keep the clothes at work.',
    limits: ['lead'],
    source: 'NIOSH Pocket Guide',
  },
  {
    code: 'mercury-first',
    triggers: [
      { verbs: ['melt', 'cast', 'cupel', 'roast', 'burn', 'dry'], materials: ['amalgam', 'placer-gold'] },
      { verbs: [...HOT, 'dry', 'retort'], substances: ['Hg'] },
    ],
    says: 'Placer gold may carry mercury: white spots or a silvery skin. Retort it closed and outdoors before any other heat; never put it straight into the furnace.',
    limits: ['mercury vapour', 'mercury'],
    source: 'retorting guides; limits as quoted with each',
  },
  {
    code: 'mercury-left',
    triggers: [{ verbs: HOT, materials: ['retort-sponge'] }],
    says: 'Retorted metal keeps up to 1.5 % mercury, which leaves only white hot: melt it under an exhaust or outdoors, and stand upwind.',
    limits: ['mercury vapour', 'mercury'],
    source: `1 to 1.5 % unless it was taken to white heat: ${ROSE}; the rest ${FROM_MEMORY}`,
  },
  {
    code: 'water-under-metal',
    triggers: [{ verbs: ['melt', 'cast', 'cupel'] }],
    says: 'Damp in cupel, mould, scrap, tools or a sealed piece of glass turns to steam and throws the metal. Heat cupels red before the lead, moulds above 120 °C, and dry what is charged.',
    limits: [],
    source: `cupels: ${BERINGER}; the rest ${FROM_MEMORY}`,
  },
  {
    code: 'nitrous-fume',
    triggers: [{ verbs: ACID_WORK, materials: ['nitric-acid'] }, { verbs: ['part'] }],
    says: 'Nitric acid on metal gives brown fume that harms the lungs hours later. Work under a hood or outdoors, add metal in small pieces, never lean over it.',
    limits: ['nitrogen dioxide'],
    source: 'NIOSH IDLH documentation',
  },
  {
    code: 'mixed-acids',
    triggers: [{ materials: ['nitric-acid'], with: ['hydrochloric-acid', 'salt'] }],
    says: 'Nitric and hydrochloric acid together give chlorine. Never cap it, never mix it with anything organic, make no more than is used.',
    limits: ['chlorine', 'nitrogen dioxide'],
    source: FROM_MEMORY,
  },
  {
    code: 'niter-deflagrates',
    triggers: [
      {
        materials: ['niter', 'soda-niter'],
        with: ['flour', 'charcoal', 'sugar', 'tartar', 'sulphide-concentrate', 'sweeps', 'lemel'],
      },
      { materials: ['niter', 'soda-niter'], substances: ['S', 'FeS2', 'FeAsS', 'CuFeS2', 'ZnS', 'Sb2S3', 'PbS', 'C'] },
    ],
    says: 'Niter with carbon, sulphur, sulphides or anything organic flares. Mix small, never grind them together, fill under half, heat slowly, stand back.',
    limits: [],
    source: `deflagration: ${BERINGER}; the rest ${FROM_MEMORY}`,
  },
  {
    code: 'fulminating-silver',
    triggers: [
      { materials: ['ammonia'], with: ['silver', 'silver-chloride', 'sterling'] },
      { materials: ['ammonia'], substances: ['Ag', 'AgCl', 'AgNO3'] },
      // What is brought down from a solution here is silver or gold, whether or not it was assayed.
      { verbs: ACID_WORK, materials: ['ammonia'] },
    ],
    says: 'Silver with ammonia forms an explosive on standing, even wet. Bring them never together; kill it at once with salt or acid, and never keep it.',
    limits: [],
    source: 'laboratory safety page',
  },
  {
    code: 'fulminating-gold',
    triggers: [
      { materials: ['ammonia'], with: ['gold'] },
      { materials: ['ammonia'], substances: ['Au', 'AuCl3'] },
    ],
    says: 'Gold solution with ammonia gives an explosive when dry. Never bring them together.',
    limits: [],
    source: FROM_MEMORY,
  },
  {
    code: 'fulminates',
    triggers: [{ materials: ['nitric-acid'], with: ['alcohol'], substances: ['Ag', 'Hg'] }],
    says: 'Silver or mercury in nitric acid with alcohol forms fulminates, which explode. Keep alcohol away.',
    limits: [],
    source: 'old texts',
  },
  {
    code: 'zinc-fume',
    triggers: [
      { verbs: HOT, materials: ['zinc'] },
      { verbs: HOT, substances: ['Zn'] },
    ],
    says: 'Zinc boils at 907 °C and its fume gives metal-fume fever. Cover, exhaust, and do not breathe the white smoke.',
    limits: ['zinc oxide fume'],
    source: `boiling point ${FROM_MEMORY}; limit as quoted`,
  },
  {
    code: 'cadmium',
    triggers: [
      { verbs: HOT, substances: ['Cd'] },
      { verbs: HOT, materials: ['solder', 'silver-solder'] },
    ],
    says: 'Cadmium solder must not be melted: its fume kills, and later. Silver solder of unknown make may hold it.',
    limits: ['cadmium'],
    source: FROM_MEMORY,
  },
  {
    code: 'beryllium',
    triggers: [{ verbs: HOT, substances: ['Be'] }],
    says: 'Beryllium copper must not be melted or ground.',
    limits: ['beryllium'],
    source: FROM_MEMORY,
  },
  {
    code: 'sulphur-arsenic-fume',
    triggers: [
      { verbs: HOT, materials: ['sulphide-concentrate'] },
      { verbs: HOT, substances: ['FeS2', 'FeAsS', 'CuFeS2', 'As', 'Sb2S3'] },
    ],
    says: 'Sulphides give choking sulphur dioxide, and mispickel gives arsenic. Roast only under exhaust or outdoors, and upwind.',
    limits: ['sulphur dioxide', 'arsenic'],
    source: `sulphur dioxide: engineering table; arsenic ${FROM_MEMORY}`,
  },
  {
    code: 'tellurium-fume',
    triggers: [{ verbs: HOT, substances: ['Te'] }],
    says: 'Tellurium fume poisons, and its smell stays for weeks. Exhaust.',
    limits: ['tellurium'],
    source: `limit as quoted; the rest ${FROM_MEMORY}`,
  },
  {
    code: 'carbon-monoxide',
    triggers: [
      { verbs: HOT, materials: ['gas-furnace', 'charcoal', 'flour'] },
      { verbs: HOT, substances: ['C'] },
    ],
    says: 'Gas furnaces and charcoal give carbon monoxide, which cannot be smelt. Air the room.',
    limits: ['carbon monoxide'],
    source: 'pages quoting OSHA and NIOSH',
  },
  {
    code: 'plastic-burns',
    triggers: [{ verbs: ['burn', 'melt', 'roast'], materials: ['sweeps', 'plastic', 'filters'] }],
    says: 'Plastic, tape and epoxy in sweeps give acid and poisonous smoke. Burn off outdoors under a hood, and weigh after.',
    limits: [],
    source: FROM_MEMORY,
  },
  {
    code: 'silica-dust',
    triggers: [
      {
        materials: ['silica', 'bone-ash', 'cement', 'quartz', 'fluorspar'],
        verbs: ['melt', 'screen', 'blend', 'split'],
      },
      { verbs: ['screen', 'magnet'], materials: ['black-sand', 'sweeps', 'burnt sweeps', 'quartz'] },
    ],
    says: 'Fine silica, bone ash and cement scar the lungs. Wet the dust or wear a mask.',
    limits: ['crystalline silica'],
    source: FROM_MEMORY,
  },
  {
    code: 'fluoride-fume',
    triggers: [{ verbs: HOT, materials: ['fluorspar'] }],
    says: 'Fluorspar with silica and acid slag gives fluoride fume. Exhaust.',
    limits: [],
    source: FROM_MEMORY,
  },
  {
    code: 'cyanide-acid',
    triggers: [
      {
        substances: ['KAu(CN)2', 'NaCN', 'KCN', 'CN'],
        materials: ['nitric-acid', 'hydrochloric-acid', 'sulphuric-acid'],
      },
    ],
    says: 'Acid on cyanide gives hydrogen cyanide, which kills at once. Never acidify a cyanide residue.',
    limits: ['hydrogen cyanide'],
    source: FROM_MEMORY,
  },
  {
    code: 'lye-and-acid',
    triggers: [{ materials: ['lye'] }, { materials: ['sulphuric-acid'] }],
    says: 'Lye and strong acid burn. Add them to water and never water to them, with goggles and gloves.',
    limits: [],
    source: FROM_MEMORY,
  },
];

const BY_CODE: ReadonlyMap<string, Caution> = new Map(CAUTIONS.map((caution) => [caution.code, caution]));

export const caution = (code: string): Caution | undefined => BY_CODE.get(code);

/** Cautions that a situation sets off, in the order of the list. Empty sets set off only what a verb does alone. */
export function cautionsFor(situation: Situation): readonly Caution[] {
  return CAUTIONS.filter(({ triggers }) => triggers.some((trigger) => isSet(trigger, situation)));
}

function isSet(trigger: Trigger, { verb, materials, substances }: Situation): boolean {
  const there = (words: readonly string[] | undefined, set: ReadonlySet<string>): boolean =>
    words === undefined || words.some((word) => set.has(word));
  return (
    (trigger.verbs === undefined || (verb !== undefined && trigger.verbs.includes(verb))) &&
    there(trigger.materials, materials) &&
    there(trigger.with, materials) &&
    there(trigger.substances, substances)
  );
}
