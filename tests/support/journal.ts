/**
 * A made-up journal of any length that checks clean: clean-ups dried, melted, cupelled and assayed; scrap cast and split. Weights follow from
 * each other as they would at the bench, with the rounding of the scale and nothing else.
 */
import { nextDate } from '../../server/text/calendar';
import { type Random, seeded } from './random';

export const WORKSHOP = `shop: { name: Tarn End }
scales:
  bench: { division: 0.01 g, capacity: 2000 g }
  fine: { division: 0.001 g, capacity: 60 g }
containers:
  tray-2: 18.20 g
crucibles:
  C4: { volume: 400 mL }
furnaces:
  F1: { power: 3 kW }
`;

const grams = (hundredths: number): string =>
  `${Math.floor(hundredths / 100)}.${`${hundredths % 100}`.padStart(2, '0')} g`;

/** Lines of one chain of work, from a clean-up to a bead or from scrap to two bars. */
const chain = (random: Random, index: number): string[][] =>
  index % 3 === 2 ? scrap(random, index) : cleanUp(random, index);

const cleanUp = (random: Random, index: number): string[][] => {
  const wet = random.whole(20_000, 30_000);
  const dry = wet - Math.floor(wet * (0.12 + random.next() * 0.06));
  const button = random.whole(4_000, 6_500);
  const bead = button - Math.floor(button * (0.03 + random.next() * 0.03));
  const lead = button + random.whole(-200, 200);
  const gold = random.whole(880, 920);
  const [lot, step] = [`L${index}`, `${index}`];
  const slag = dry - button + Math.floor((6000 + 0.9 * 4000) / 1) + random.whole(-60, 0);
  return [
    [
      `receive ${lot} from own-dredge`,
      '  material black-sand',
      `  gross ${grams(wet + 1820)} wet on bench, tare tray-2`,
      '  expect Au 15..30 %',
      '',
      `dry D${step}`,
      `  in ${lot}`,
      '  08:10 oven 110 °C',
      '  09:30 out',
      `  out ${lot}d ${grams(dry)} on bench`,
      '',
      `melt M${step}, crucible C4, furnace F1`,
      `  in ${lot}d ${grams(dry)} on bench`,
      '  add borax-glass 60.00 g on bench',
      '  add silica 36.00 g on bench',
      '  10:53 poured 1170 °C into cone-1',
      `  out B${step} ${grams(button)} button on bench`,
      `  out S${step} ${grams(slag)} slag on bench, keep`,
    ],
    [
      `cupel K${step}, furnace F1`,
      `  in B${step} ${grams(button)} on bench`,
      `  add lead ${grams(lead)} on bench`,
      '  12:31 blick',
      `  out B${step}c ${grams(bead)} bead on bench`,
      '',
      `assay B${step}c by xrf`,
      `  Au ${gold / 10} %  Ag ${(985 - gold) / 10} %  Cu 0.3 %`,
      '',
      `ship V${step} to harbour-refiner`,
      `  in B${step}c ${grams(bead)} on bench`,
    ],
  ];
};

const scrap = (random: Random, index: number): string[][] => {
  const weight = random.whole(2_000, 9_000);
  const cast = weight - Math.floor(weight * (0.0005 + random.next() * 0.001));
  const half = Math.floor(cast / 2) - random.whole(0, 400);
  const lot = `R${index}`;
  return [
    [
      `receive ${lot} ${grams(weight)} on bench`,
      '  bought 900.00 USD',
      '  stamp Au 14 k',
      '  note bag of broken chain, stones out',
      '',
      `cast T${index}, crucible C4, furnace F1`,
      `  in ${lot} ${grams(weight)} on bench`,
      `  out ${lot}b ${grams(cast)} bar on bench`,
      '',
      `split Y${index}`,
      `  in ${lot}b ${grams(cast)} on bench`,
      `  out ${lot}x ${grams(half)} on bench, keep`,
      `  out ${lot}y ${grams(cast - half)} on bench, at strongbox`,
    ],
  ];
};

/** Pages of a journal of about so many lines over so many files, from 2016 on. File names are months. */
export const makeJournal = (lines: number, files: number, seed = 1): Map<string, string> => {
  const random = seeded(seed);
  const pages = new Map<string, string>();
  const perFile = Math.ceil(lines / files);
  let index = 0;
  for (let file = 0; file < files; file++) {
    const [year, month] = [2016 + Math.floor(file / 12), (file % 12) + 1];
    let date = `${year}-${`${month}`.padStart(2, '0')}-01`;
    const page: string[] = [];
    while (page.length < perFile) {
      for (const day of chain(random, index)) {
        page.push(date, ...day, '');
        const next = nextDate(date);
        date = next.startsWith(date.slice(0, 7)) ? next : date;
      }
      index++;
    }
    pages.set(`${year}-${`${month}`.padStart(2, '0')}.melt`, `${page.slice(0, -1).join('\n')}\n`);
  }
  return pages;
};
