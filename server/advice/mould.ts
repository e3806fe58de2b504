/** The mould of a pour: whether metal and slag go into it, and the smallest of the workshop that takes them. */
import { MOULD_FILL } from '../engine/bench/mould';
import { assume, type Estimate, over } from '../engine/bench/result';
import type { Entry, Named } from '../engine/entry';
import type { Mould } from '../engine/workshop';
import type { Advice, Topic, Working } from './advice';
import { isAllWeighed, type Job } from './job';
import { MOLTEN_ASSUMED, type MoltenRoom, moltenRoom } from './molten-room';
import { smeltOf } from './smelt';
import { isFit } from './sulphur';
import { nameWritten, rangeWords } from './words';

const TOPIC = 'mould';

export const mould: Topic = (job) => {
  const smelt = smeltOf(job);
  if (!smelt || job.step!.added.some(({ mass }) => !mass)) return [];
  const named = mouldNamed(job.entry);
  const room = moltenRoom(job, smelt);
  if (!room || !(room.low > 0)) return [];
  const volume = named && job.workspace.workshop.moulds.get(named.name)?.volumeMillilitres;
  if (named && volume) return intoNamed(job, named, volume, room);
  const isLeft = job.entry.flows.some(({ kind }) => kind === 'shot');
  const isAsked = job.planned && isAllWeighed(job) && isFit(job, smelt);
  return isAsked && !isLeft ? [choose(job, room, named)] : [];
};

/** Said of the heat, or of its pour. */
const mouldNamed = ({ gear, clocks }: Entry): Named | undefined =>
  gear.find(({ word }) => word === 'mould')?.item ?? clocks.find(({ mould: into }) => into)?.mould;

const ASSUMED = [
  MOLTEN_ASSUMED,
  assume('filled to nine tenths at most; the slag is poured with the metal', 'common practice, no source'),
];

const intoNamed = (job: Job, named: Named, volume: number, room: MoltenRoom): readonly Advice[] => {
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

/** The smallest that fits; of one that is named and whose volume is not known, what is wanted. */
const choose = (job: Job, room: MoltenRoom, named: Named | undefined): Advice => {
  const wanted = over(room, MOULD_FILL);
  const all = [...job.workspace.workshop.moulds.values()]
    .filter(({ volumeMillilitres }) => (volumeMillilitres ?? 0) > 0)
    .sort((a, b) => a.volumeMillilitres! - b.volumeMillilitres!);
  const fits = named ? undefined : all.find(({ volumeMillilitres }) => room.high <= MOULD_FILL * volumeMillilitres!);
  const working = (): Working => ({
    says: `${named ? namedWords(named, wanted) : fitWords(fits, all.at(-1), wanted)} Metal and slag take ${rangeWords(room, 'mL')}, molten.`,
    rows: [...room.rows(), `mould             room / ${MOULD_FILL} = ${rangeWords(wanted, 'mL')}`],
    assumed: ASSUMED,
    todo: 'Heat the mould dry before the pour: water below molten metal throws it out.',
  });
  const { head } = job.entry;
  if (!fits)
    return {
      topic: TOPIC,
      at: named?.place ?? head,
      label: `mould of ${rangeWords(wanted, 'mL')} wanted`,
      rank: 'result',
      working,
    };
  const line = `mould ${nameWritten(fits.name)}`;
  return { topic: TOPIC, at: head, rank: 'result', working, writes: [{ part: 'gear', line, range: line }] };
};

const namedWords = ({ name }: Named, wanted: Estimate): string =>
  `A mould of ${rangeWords(wanted, 'mL')} is wanted; the volume of ${name} is not said in the workshop file.`;

const fitWords = (fits: Mould | undefined, largest: Mould | undefined, wanted: Estimate): string => {
  if (fits) return `${fits.name}, ${fits.volumeMillilitres} mL, is the smallest that fits.`;
  if (!largest) return `A mould of ${rangeWords(wanted, 'mL')} is wanted; the workshop has none whose volume is said.`;
  const many = Math.ceil(wanted.high / largest.volumeMillilitres!);
  return `No mould of the workshop takes it: one of ${rangeWords(wanted, 'mL')} is wanted, or ${many} pours into moulds like ${largest.name}.`;
};
