/** The heat of the muffle as it was logged, against what the stage of the cupellation wants. */
import { CUPEL_HEAT, type CupelStage, cupelHeat } from '../engine/bench/cupel';
import { BY_EYE, coloursWords } from '../engine/bench/heat';
import { type Assumption, assume, FROM_MEMORY } from '../engine/bench/result';
import type { Clock } from '../engine/entry';
import type { Advice, Topic, Working, Wrong } from './advice';
import { type Cupelled, cupelledOf } from './cupelled';
import type { Job } from './job';

export const cupelHeats: Topic = (job) => {
  const { verb, clocks } = job.entry;
  if (verb !== 'cupel') return [];
  const cupelled = cupelledOf(job);
  const logged = clocks.flatMap((clock) => loggedAt(clock, cupelled) ?? []);
  if (!job.planned) return logged.filter(({ wrong = [] }) => wrong.length > 0);
  if (logged.length > 0) return logged;
  return [wanted(job, cupelled)];
};

const TOPIC = 'cupel heat';

/** Words that tell the stage. */
const STAGES: ReadonlyMap<string, CupelStage> = new Map([
  ['charged', 'opening'],
  ['driving', 'driving'],
  ['blick', 'finish'],
] satisfies [string, CupelStage][]);

const STAGE_WORDS: Readonly<Record<CupelStage, string>> = {
  opening: 'for the lead to uncover',
  driving: 'while driving',
  finish: 'to finish',
  'jewellery assay': 'in a jewellery assay',
};

/** What a thermocouple may be out by: the less and the more certain side of a finding. */
const THERMOCOUPLE_CELSIUS = 15;
const THERMOCOUPLE = assume('a thermocouple is good to 5 to 15 °C', FROM_MEMORY);

interface Window {
  readonly low: number;
  readonly high: number;
  readonly assumed: readonly Assumption[];
}

/**
 * Only silver is lost for the heat: gold-rich beads, and those of unknown make, may go as hot as a jewellery assay. `sure`: what is only said of it
 * does not count, as where a logged heat is held against it.
 */
const windowOf = (stage: CupelStage, cupelled: Cupelled | undefined, sure: boolean): Window => {
  const { low, high, source } = CUPEL_HEAT.get(stage)!;
  const plain = assume(`${low} to ${high} °C ${STAGE_WORDS[stage]}`, source);
  if (isSilverRich(cupelled, sure)) return { low, high, assumed: [plain, THERMOCOUPLE] };
  const jewellery = CUPEL_HEAT.get('jewellery assay')!;
  const hotter = assume(`gold may be driven as hot as ${jewellery.high} °C`, jewellery.source);
  return { low, high: jewellery.high, assumed: [plain, hotter, THERMOCOUPLE] };
};

/** At least half of gold and silver is silver, as far as can be told. */
const isSilverRich = (cupelled: Cupelled | undefined, sure: boolean): boolean => {
  const { gold, silver, lots } = cupelled ?? {};
  if (!lots || (sure && lots.guessed)) return false;
  if (gold && silver) return silver.low >= gold.high;
  return silver !== undefined && silver.low >= 0.5 * lots.grams.best;
};

const loggedAt = (clock: Clock, cupelled: Cupelled | undefined): Advice | undefined => {
  const stage = clock.events.map((event) => STAGES.get(event)).find((one) => one !== undefined);
  const celsius = clock.temperature?.value.toNumber();
  if (!stage || celsius === undefined) return undefined;
  const window = windowOf(stage, cupelled, true);
  const wrong = wrongOf(clock, stage, celsius, window);
  const wants = `${window.low} to ${window.high} °C`;
  const working = (): Working => ({
    says: `${Math.round(celsius)} °C ${STAGE_WORDS[stage]}, where ${wants} is wanted.`,
    assumed: window.assumed,
  });
  return { topic: TOPIC, at: clock.place, rank: 'extra', working, wrong };
};

const wrongOf = ({ place }: Clock, stage: CupelStage, celsius: number, { low, high }: Window): readonly Wrong[] => {
  const logged = `${Math.round(celsius)} °C ${STAGE_WORDS[stage]}`;
  if (celsius < low - THERMOCOUPLE_CELSIUS) {
    const { does } = cupelHeat(stage, celsius).value;
    return [
      { code: 'cupel-too-cold', place, says: `${logged} is too cold: ${does}. Bring the muffle to ${low} °C or more.` },
    ];
  }
  if (celsius <= high + THERMOCOUPLE_CELSIUS) return [];
  const { does } = cupelHeat(stage, celsius).value;
  return [
    {
      code: 'cupel-too-hot',
      place,
      says: `${logged} is too hot: ${does}. Let the muffle go back to ${high} °C or less.`,
    },
  ];
};

/** For a plan that logs no heat yet. */
const wanted = ({ entry }: Job, cupelled: Cupelled | undefined): Advice => {
  const stages = ['opening', 'driving', 'finish'] satisfies CupelStage[];
  const windows = stages.map((stage) => ({ stage, window: windowOf(stage, cupelled, false) }));
  const [opening, , finish] = windows;
  const working = (): Working => ({
    says: `Heat of the muffle: ${opening!.window.low} °C or more before the lead goes in, ${finish!.window.low} °C or more to finish. Magnesia wants more than bone ash.`,
    rows: windows.map(
      ({ stage, window: { low, high } }) =>
        `${STAGE_WORDS[stage].padEnd(26)}${low} to ${high} °C, ${coloursWords(low, high)}`,
    ),
    assumed: [
      ...new Map(windows.flatMap(({ window }) => window.assumed).map((one) => [one.says, one])).values(),
      BY_EYE,
    ],
  });
  return { topic: TOPIC, at: entry.head, rank: 'extra', working };
};
