/** Lead for a cupellation: what the base metal of the charge wants, against what is written. */
import {
  LEAST_FOR_COPPER,
  type LeadAdvice,
  leadFor,
  leadForJewellery,
  leadForLot,
  MOST_ASSAY_GRAMS,
  NEXT_TO_NONE,
} from '../engine/bench/cupel-lead';
import {
  type Assumption,
  assume,
  COMMON_PRACTICE,
  type Estimate,
  ISO_11426,
  less,
  type Result,
} from '../engine/bench/result';
import type { Topic, Working, Wrong } from './advice';
import type { Base } from './base';
import { beadOf, type Cupelled, cupelledOf } from './cupelled';
import type { Job } from './job';
import { bestWords, estimateWords, guessWords, percentWords, rangeWords } from './words';

export const cupelLead: Topic = (job) => {
  const cupelled = cupelledOf(job);
  const need = cupelled && leadWanted(cupelled);
  if (!cupelled || need?.value === undefined) return [];
  const { leadAdded, leadLine } = cupelled;
  const { addGrams } = need.value;
  const at = leadLine?.place ?? job.entry.head;
  const working = (): Working => ({
    ...workingOf(cupelled, need.value!),
    assumed: [...need.assumed, ...jewelleryAssay(cupelled)],
  });
  const wrong = shortOf(job);
  const same = { topic: TOPIC, at, working, wrong } as const;
  // Of what was done only what is amiss is worth a word.
  if (!job.planned) return wrong.length > 0 ? [{ ...same, rank: 'doubt' }] : [];
  const range = `lead ${rangeWords(addGrams, 'g')}`;
  if (leadAdded > 0 || leadLine?.amount?.figure)
    return [{ ...same, label: `lead wanted ${rangeWords(addGrams, 'g')}`, rank: 'extra' }];
  const amount = guessWords(addGrams, 'g');
  if (isEnough(need.value)) return [{ ...same, label: 'lead enough in it', rank: 'extra' }];
  const write = leadLine
    ? { flow: leadLine, amount, range }
    : { part: 'add' as const, line: `add lead ${amount}`, range };
  return [{ ...same, rank: 'result', writes: [write] }];
};

const TOPIC = 'lead';

/** The charge's own lead is enough, but for a hundredth. */
const isEnough = ({ addGrams, totalGrams }: LeadAdvice): boolean => addGrams.best <= 0.01 * totalGrams.best;

/** By the assay tables for a sample of an assay's weight, by what the bench does for a lot. */
export const leadWanted = ({ charge, base, gold, silver }: Cupelled): Result<LeadAdvice> => {
  const grams = charge.best;
  if (grams > MOST_ASSAY_GRAMS) return leadForLot(grams, base.grams && base.named, base.lead.best, base.unknown);
  const share = (metal: Estimate | undefined): number | undefined => metal && metal.best / grams;
  const known = base.grams && Math.min(1, base.grams.best / grams);
  const found = leadFor({ grams, gold: share(gold), silver: share(silver), base: known, lead: base.lead.best / grams });
  if (found.value === undefined || !isUnnamed(charge, base)) return found;
  return { ...found, assumed: [...found.assumed, AS_THE_TABLE] };
};

/** Some of the base metal, worth a word, is no more than what gold and silver leave. */
const isUnnamed = (charge: Estimate, { unknown }: Base): boolean => unknown.best > NEXT_TO_NONE * charge.best;

const AS_THE_TABLE = assume(
  'which base metal it is nobody said: the table is for copper, and too much lead costs only a little more silver',
  COMMON_PRACTICE,
);

/** For a sample of an assay's weight, what the standard for jewellery asks at the least. */
const jewelleryAssay = ({ lots, gold }: Cupelled): readonly Assumption[] => {
  const milligrams = 1000 * lots.grams.best;
  const least = gold && leadForJewellery(milligrams, (lots.metals.get('Ni')?.best ?? 0) > 0);
  return least?.value === undefined
    ? []
    : [
        assume(
          `an assay of jewellery takes ${least.value} g of lead for ${Math.round(milligrams)} mg at the least`,
          ISO_11426,
        ),
      ];
};

/**
 * Clearly short: under half of the least that any table gives, by the least base metal that there can be; of base metal that nobody named, under
 * half of the charge's own weight too.
 */
const CLEARLY = 0.5;

/** By what was known before the bead, be it an expectation; a bead that is assayed clean says that the lead was enough. */
const shortOf = (job: Job): readonly Wrong[] => {
  const bead = beadOf(job);
  const cupelled = bead?.isClean ? undefined : cupelledOf(job, 'before');
  if (!cupelled) return [];
  const { base, charge, leadAdded, leadLine, lots } = cupelled;
  // In a plan a missing amount is written in.
  if (!base.grams || (leadAdded === 0 && (job.planned || leadLine))) return [];
  const lead = leadAdded + base.lead.high;
  const least = LEAST_FOR_COPPER * base.grams.low;
  const isNamed = lead < CLEARLY * LEAST_FOR_COPPER * base.named.low;
  if (lead >= CLEARLY * least || !(isNamed || lead < CLEARLY * less(charge, base.lead).low)) return [];
  const parts = lead / base.grams.low;
  const by = lots.guessed ? 'By what was said of the charge ' : '';
  const todo = bead
    ? `cupel the bead again with fresh lead, for it will have kept base metal`
    : `add lead to ${bestWords(known(isNamed ? least : less(charge, base.lead).best), 'g')}, or the bead keeps base metal`;
  return [
    {
      code: 'lead-short',
      place: leadLine?.amount?.place ?? leadLine?.place ?? job.entry.head,
      says: `${by}${bestWords(known(base.grams.low), 'g')} of base metal at least${isNamed ? '' : ', nobody said which'}, and ${bestWords(known(lead), 'g')} of lead: ${parts.toFixed(parts < 1 ? 1 : 0)} parts for one. ${isNamed ? `No table gives less than ${LEAST_FOR_COPPER}` : `Copper wants ${LEAST_FOR_COPPER}, and what is not known at least its own weight of lead to begin with`}: ${todo}.`,
      related: lots.by.map((entry) => ({ place: entry.head, says: 'this tells of its metals' })),
    },
  ];
};

const known = (value: number): Estimate => ({ low: value, best: value, high: value });

const workingOf = (cupelled: Cupelled, lead: LeadAdvice): Omit<Working, 'assumed'> => {
  const { addGrams, totalGrams, by } = lead;
  const { lots, charge, noble, base, precious, leadAdded } = cupelled;
  const rows =
    noble > 0
      ? [
          `charge            ${bestWords(lots.grams, 'g')} and ${bestWords(known(noble), 'g')} of gold or silver added = ${bestWords(charge, 'g')}`,
        ]
      : [`charge            ${bestWords(charge, 'g')}`];
  if (precious) rows.push(`gold and silver   ${estimateWords(precious, 'g')}`);
  if (base.grams)
    rows.push(
      `base metal        ${estimateWords(base.grams, 'g')}${base.by === 'rest' && isUnnamed(charge, base) ? ', what gold and silver leave' : ''}`,
    );
  const unnamed = isUnnamed(charge, base);
  if (unnamed && base.named.best > 0)
    rows.push(
      `  of it named     ${estimateWords(base.named, 'g')} × ${LEAST_FOR_COPPER} = ${estimateWords(times16(base.named), 'g')} lead at least`,
    );
  if (isEnough(lead) && base.lead.best > 0) {
    rows.push(`lead in it        ${estimateWords(base.lead, 'g')}`, 'lead to add       0 g');
    return { says: saysOf(cupelled, lead), rows };
  }
  if (base.grams && by === 'larger lot')
    rows.push(
      `  × ${LEAST_FOR_COPPER}            ${estimateWords(times16(base.grams), 'g')} lead ${unnamed ? 'if it is copper' : 'at least'}`,
    );
  if (by === 'larger lot' || by === 'unknown base metal')
    rows.push(`  own weight      ${bestWords(less(charge, base.lead), 'g')} lead to begin with`);
  rows.push(`lead in all       ${estimateWords(totalGrams, 'g')}`);
  if (base.lead.best > 0) rows.push(`lead in it        ${estimateWords(base.lead, 'g')}`);
  rows.push(`lead to add       ${estimateWords(addGrams, 'g')}`);
  if (leadAdded > 0) rows.push(`lead written      ${bestWords(known(leadAdded), 'g')}`);
  return { says: saysOf(cupelled, lead), rows };
};

const times16 = ({ low, best, high }: Estimate): Estimate => ({
  low: LEAST_FOR_COPPER * low,
  best: LEAST_FOR_COPPER * best,
  high: LEAST_FOR_COPPER * high,
});

const saysOf = ({ charge, base }: Cupelled, wanted: LeadAdvice): string => {
  const { addGrams: add, by } = wanted;
  const lead = rangeWords(add, 'g');
  if (isEnough(wanted)) return `${bestWords(base.lead, 'g')} of lead is in the charge: enough to begin with.`;
  if (by === 'unknown base metal' || !base.grams)
    return `Base metal in the charge is not known: begin with about its own weight of lead, ${bestWords(add, 'g')}, and add more if the bead does not brighten.`;
  const share = percentWords({
    low: base.grams.low / charge.best,
    best: base.grams.best / charge.best,
    high: Math.min(1, base.grams.high / charge.best),
  });
  const least = base.by === 'named' ? 'at least ' : '';
  if (by === 'larger lot' && isUnnamed(charge, base))
    return `The charge holds ${share} base metal, and nobody said which${base.named.best > 0 ? ` ${bestWords(base.unknown, 'g')} of it are` : ''}: begin with ${bestWords(add, 'g')} of lead, and add more if the bead does not brighten. As copper it wants ${bestWords(times16(base.grams), 'g')} in all.`;
  if (by === 'larger lot')
    return `The charge holds ${least}${share} base metal: begin with ${bestWords(add, 'g')} of lead (${lead}), and add more if the bead does not brighten.`;
  return `A sample of ${bestWords(charge, 'g')} with ${least}${share} base metal wants ${lead} of lead by the assay table.`;
};

/** Where the limit of `lead-short` is from. */
export const LEAD_SHORT_SOURCE = `16 parts of lead for a part of copper: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; half of it as the limit, and half of the own weight of a charge whose base metal nobody named: ${COMMON_PRACTICE}`;
