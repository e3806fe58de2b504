/** The mould of a pour: whether metal and slag go into it, and the smallest of the workshop that takes them. */
import { MOULD_FILL, metalMillilitres, SLAG_MELT } from '../engine/bench/mould';
import { assume, type Estimate, exactly, FROM_MEMORY, over, sumOf } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import { isMetalKind } from '../engine/charge';
import type { Entry, Named } from '../engine/entry';
import type { Mould } from '../engine/workshop';
import type { Advice, Topic, Working } from './advice';
import { isAllWeighed, type Job } from './job';
import { type Smelt, smeltOf } from './smelt';
import { isFit } from './sulphur';
import { nameWritten, rangeWords, termWords } from './words';
import { slagKind, slagLeft, type Yield, yieldOf } from './yield';

const TOPIC = 'mould';

export const mould: Topic = (job) => {
  const smelt = smeltOf(job);
  if (!smelt || job.step!.added.some(({ mass }) => !mass)) return [];
  const named = mouldNamed(job.entry);
  const room = roomOf(job, smelt);
  if (!room || !(room.low > 0)) return [];
  if (named) return intoNamed(job, named, room);
  const isLeft = job.entry.flows.some(({ kind }) => kind === 'shot');
  const isAsked = job.planned && isAllWeighed(job) && isFit(job, smelt);
  return isAsked && !isLeft ? [choose(job, room)] : [];
};

/** Said of the heat, or of its pour. */
const mouldNamed = ({ gear, clocks }: Entry): Named | undefined =>
  gear.find(({ word }) => word === 'mould')?.item ?? clocks.find(({ mould: into }) => into)?.mould;

interface Room extends Estimate {
  readonly metal: Estimate;
  readonly slag: Estimate;
  readonly rows: () => readonly string[];
}

/** Of metal whose make is not known: from fine gold to copper. From memory. */
const ANY_METAL = { low: 8, best: 12, high: 17.3 };

/** Metal and slag as they were weighed, else as they are to be expected. mL, molten. */
const roomOf = (job: Job, smelt: Smelt): Room | undefined => {
  const pour = yieldOf(job);
  const written = weighed(job.step!.outputs);
  const metalGrams = written.metal ?? pour.metal;
  const slagGrams = written.slag ?? (isKnown(smelt) ? slagLeft(job, pour) : undefined);
  if (!metalGrams && !slagGrams) return undefined;
  const metal = metalGrams ? metalRoom(pour, metalGrams) : exactly(0);
  const kind = slagKind(pour.slag);
  const slag = slagGrams ? over(slagGrams, SLAG_MELT.get(kind)!) : exactly(0);
  return {
    ...sumOf([metal, slag]),
    metal,
    slag,
    rows: () => [
      ...(metalGrams
        ? [
            `metal             ${workedWith(metalGrams)}, at ${densityWords(metalGrams, metal)}: ${rangeWords(metal, 'mL')} molten`,
          ]
        : []),
      ...(slagGrams?.high
        ? [
            `slag              ${workedWith(slagGrams)} / ${SLAG_MELT.get(kind)!.low}..${SLAG_MELT.get(kind)!.high} = ${rangeWords(slag, 'mL')} molten, as ${kind}`,
          ]
        : []),
      ...(metalGrams && slagGrams?.high ? [`together          ${rangeWords(sumOf([metal, slag]), 'mL')}`] : []),
    ],
  };
};

/** A weight that is close to one figure, to a digit more. */
const workedWith = (grams: Estimate): string => {
  const words = rangeWords(grams, 'g');
  return words.includes('..') ? words : termWords(grams.best, 'g');
};

const densityWords = (grams: Estimate, room: Estimate): string => `${termWords(grams.best / room.best, 'g/mL')}`;

const isKnown = ({ unknown, unknownAdded }: Smelt): boolean => unknown.length === 0 && !unknownAdded;

const metalRoom = ({ metals }: Yield, grams: Estimate): Estimate => {
  const sum = [...metals.values()].reduce((so, one) => so + one, 0);
  const dense = sum >= 0.9 * grams.best ? metalMillilitres(metals).value : undefined;
  if (!dense) return over(grams, ANY_METAL);
  return {
    best: (dense.best * grams.best) / sum,
    low: (dense.low * grams.low) / sum,
    high: (dense.high * grams.high) / sum,
  };
};

const weighed = (
  outputs: readonly FlowWeight[],
): { readonly metal: Estimate | undefined; readonly slag: Estimate | undefined } => {
  const real = outputs.filter(({ flow }) => !flow.none);
  const sumIf = (all: readonly FlowWeight[]): Estimate | undefined =>
    all.length > 0 && all.every(({ mass }) => mass)
      ? exactly(all.reduce((so, { mass }) => so + mass!.value.toNumber(), 0))
      : undefined;
  return {
    metal: sumIf(real.filter(({ flow }) => isMetalKind(flow.kind) && flow.kind !== 'prills' && flow.kind !== 'skull')),
    slag: sumIf(real.filter(({ flow }) => flow.kind === 'slag')),
  };
};

const ASSUMED = [
  assume('densities of molten metals and slags; volumes add up', FROM_MEMORY),
  assume('filled to nine tenths at most; the slag is poured with the metal', 'common practice, no source'),
];

const intoNamed = (job: Job, named: Named, room: Room): readonly Advice[] => {
  const volume = job.workspace.workshop.moulds.get(named.name)?.volumeMillilitres;
  if (!volume) return [];
  const share = over(room, volume);
  const metalAlone = over(room.metal, volume).low > MOULD_FILL;
  // Full to the brim may still go well: amiss is what cannot go in.
  const isAmiss = share.low > 1 || metalAlone;
  if (!isAmiss && !job.planned) return [];
  const percent = `${Math.round(100 * share.low)} %`;
  const says = `${named.name} holds ${volume} mL, and the pour takes ${rangeWords(room, 'mL')}: it ${metalAlone && share.low <= 1 ? 'leaves no room for the slag' : 'runs over'}. Take a mould of ${rangeWords(over(room, MOULD_FILL), 'mL')}, or pour into two.`;
  const working = (): Working => ({
    says: isAmiss ? says : `The pour takes ${rangeWords(room, 'mL')} of ${volume} mL in ${named.name}.`,
    rows: room.rows(),
    assumed: ASSUMED,
  });
  if (!isAmiss) return [{ topic: TOPIC, at: named.place, rank: 'extra', working }];
  return [
    {
      topic: TOPIC,
      at: named.place,
      label: `${named.name} at least ${percent} full`,
      rank: 'doubt',
      working,
      wrong: [{ code: 'mould-too-small', place: named.place, says }],
    },
  ];
};

const choose = (job: Job, room: Room): Advice => {
  const wanted = over(room, MOULD_FILL);
  const all = [...job.workspace.workshop.moulds.values()]
    .filter(({ volumeMillilitres }) => (volumeMillilitres ?? 0) > 0)
    .sort((a, b) => a.volumeMillilitres! - b.volumeMillilitres!);
  const fits = all.find(({ volumeMillilitres }) => room.high <= MOULD_FILL * volumeMillilitres!);
  const working = (): Working => ({
    says: `${fitWords(fits, all.at(-1), wanted)} Metal and slag take ${rangeWords(room, 'mL')}, molten.`,
    rows: [...room.rows(), `mould             room / ${MOULD_FILL} = ${rangeWords(wanted, 'mL')}`],
    assumed: ASSUMED,
    todo: 'Heat the mould dry before the pour: water below molten metal throws it out.',
  });
  const { head } = job.entry;
  if (!fits)
    return { topic: TOPIC, at: head, label: `mould of ${rangeWords(wanted, 'mL')} wanted`, rank: 'result', working };
  const line = `mould ${nameWritten(fits.name)}`;
  return { topic: TOPIC, at: head, rank: 'result', working, writes: [{ part: 'gear', line, range: line }] };
};

const fitWords = (fits: Mould | undefined, largest: Mould | undefined, wanted: Estimate): string => {
  if (fits) return `${fits.name}, ${fits.volumeMillilitres} mL, is the smallest that fits.`;
  if (!largest) return `A mould of ${rangeWords(wanted, 'mL')} is wanted; the workshop has none whose volume is said.`;
  const many = Math.ceil(wanted.high / largest.volumeMillilitres!);
  return `No mould of the workshop takes it: one of ${rangeWords(wanted, 'mL')} is wanted, or ${many} pours into moulds like ${largest.name}.`;
};
