/** A lot: how much is left, where it is from, its weights through the steps, where it went, whose it is, what is wrong with it. */
import { fromMeasured } from '../../engine/accounts/inexact';
import { withoutLent } from '../../engine/accounts/lent';
import { fineOf } from '../../engine/accounts/stock';
import type { LotEvent, LotEventKind, LotStory } from '../../engine/book';
import type { Entry } from '../../engine/entry';
import { showMass, showQuantity } from '../../quantity/show';
import { fineWords, groundWords, isShown, shareWords } from '../../reports/fine';
import { brokenLines, escapeMarkdown, paragraphs } from '../../reports/markdown';
import { ownerShares, shareWords as ownerShareWords } from '../../reports/shares';
import { stepWords } from '../../reports/words';
import { entryFindings } from '../../rules/findings';
import { overlaps } from '../../text/span';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { fineWeights } from '../fine';

export const lotMarkdown = (workspace: Workspace, name: string): string => {
  const story = workspace.book.lot(name);
  if (!story || story.events.length === 0) return `**${escapeMarkdown(name)}** · a lot that nothing else speaks of`;
  return paragraphs(
    `**${escapeMarkdown(name)}** · ${escapeMarkdown(answerOf(story))}`,
    brokenLines(
      [
        originOf(story),
        weightsOf(story),
        usesOf(story),
        metalOf(workspace, story),
        sharesOf(workspace, story),
        assaysOf(story),
        keepingOf(story),
      ].map(escaped),
    ),
    brokenLines(findingsOf(workspace, story).map(escapeMarkdown)),
  );
};

const escaped = (line: string | undefined): string | undefined => line && escapeMarkdown(line);

const answerOf = ({ left, gone, births, make }: LotStory): string => {
  const kind = make?.kind ?? make?.material;
  const what = kind ? `, ${kind}` : '';
  if (births.length === 0) return 'a lot that nothing makes';
  if (gone) return `used up${what}`;
  return left ? `${showQuantity(left, 'g')} left${what}` : `how much is left is not known${what}`;
};

const where = ({ entry }: LotEvent): string => `${stepWords(entry)}${entry.date ? ` on ${entry.date}` : ''}`;

const originOf = ({ births, make }: LotStory): string | undefined => {
  const [birth] = births;
  if (!birth) return undefined;
  const { entry, kind } = birth;
  const material = make?.material ? `, ${make.material}` : '';
  if (kind === 'received') {
    const from = entry.party ? ` from ${entry.party.name}` : '';
    return `Received${from}${entry.date ? ` on ${entry.date}` : ''}${material}.${expectedOf(birth)}`;
  }
  if (kind === 'renamed')
    return `${entry.name?.name ?? 'Another lot'} under a new name${entry.date ? ` since ${entry.date}` : ''}.`;
  return `Out of ${where(birth)}.`;
};

/** `Au ~38..56 g by our own guess`. */
const expectedOf = ({ entry, weight }: LotEvent): string => {
  const said = entry.others.flatMap(({ word, reading }) => {
    const by = EXPECTED_BY.get(word);
    const fine = by && reading ? fineWeights(reading, weight) : [];
    return fine.length > 0 ? [`${fine.map(({ symbol, grams }) => `${grams} ${symbol}`).join(', ')} ${by}`] : [];
  });
  return said.length > 0 ? ` ${said.join('; ')}.` : '';
};

const EXPECTED_BY: ReadonlyMap<string, string> = new Map([
  ['expect', 'by our own guess'],
  ['claim', 'by their word'],
  ['stamp', 'by the mark on it'],
]);

const MOST_LISTED = 4;

/** The weights in order, each with its place; of a long story the first and the last. */
const weightsOf = ({ events }: LotStory): string | undefined => {
  const weighed = events.filter(({ weight, kind }) => weight.mass && weight.ground !== 'carried' && kind !== 'sampled');
  if (weighed.length === 0) return undefined;
  const said = weighed.map(({ weight, entry }) => `${showMass(weight.mass!)} in ${stepWords(entry)}`);
  return `Weighed: ${shortList(said)}.`;
};

const shortList = (items: readonly string[]): string => {
  if (items.length <= MOST_LISTED) return items.join(', ');
  return `${items.slice(0, MOST_LISTED - 1).join(', ')}, … ${items.at(-1)}`;
};

const GOES: ReadonlyMap<LotEventKind, (event: LotEvent) => string> = new Map<LotEventKind, (event: LotEvent) => string>(
  [
    ['used', (event) => `into ${where(event)}`],
    ['part-used', (event) => `${massOf(event)} into ${where(event)}`],
    ['sampled', (event) => `${massOf(event)} sampled${dayOf(event.entry)}`],
    ['discarded', (event) => `discarded${dayOf(event.entry)}`],
    ['renamed', (event) => `renamed to ${event.entry.toLot?.name ?? '?'}${dayOf(event.entry)}`],
    ['shipped', (event) => `shipped in ${where(event)}${event.entry.party ? ` to ${event.entry.party.name}` : ''}`],
    ['sold', (event) => `sold${event.entry.party ? ` to ${event.entry.party.name}` : ''}${dayOf(event.entry)}`],
    ['missing', (event) => `missing at the count${dayOf(event.entry)}`],
    ['found', (event) => `found at the count${dayOf(event.entry)}`],
    ['returned', (event) => `came back${dayOf(event.entry)}`],
  ],
);

const massOf = ({ weight }: LotEvent): string => (weight.mass ? showMass(weight.mass) : 'a part');
const dayOf = ({ date }: Entry): string => (date ? ` on ${date}` : '');

const usesOf = ({ name, events, births }: LotStory): string | undefined => {
  const gone = events.filter(
    (event) => !births.includes(event) && !(event.kind === 'renamed' && event.entry.toLot?.name === name),
  );
  const said = gone.flatMap((event) => GOES.get(event.kind)?.(event) ?? []);
  if (said.length === 0) return undefined;
  const list = shortList(said);
  return `${list[0]!.toUpperCase()}${list.slice(1)}.`;
};

const assaysOf = ({ events }: LotStory): string | undefined => {
  const assays = events.filter(({ kind }) => kind === 'assayed');
  const last = assays.at(-1)?.entry;
  if (!last) return undefined;
  const readings = last.readings.length;
  const by = last.method ? ` by ${last.method.name}` : '';
  const count = readings > 1 ? `, ${readings} readings` : '';
  const earlier = assays.length > 1 ? `; ${assays.length} assays in all` : '';
  return `Assayed${by}${dayOf(last)}${count}${earlier}.`;
};

/** `Holds Au 45.0 g ±0.4 (91.8 %, assayed by xrf), Ag 3.8 g …`: of all of it, as it came to be. */
const metalOf = (workspace: Workspace, { name }: LotStory): string | undefined => {
  const { metals } = accountsOf(workspace);
  const segment = metals.lineage.segmentAt(name);
  const weight = segment?.start.weight.mass ?? segment?.start.weight.volume;
  if (!segment || !weight?.value.greaterThan(0)) return undefined;
  const fine = fineOf(metals.best(segment), fromMeasured(weight)).filter(isShown);
  const apart = fine.filter(({ metal }) => metal !== 'Au+Ag' || !fine.some((one) => one.metal === 'Au'));
  const said = apart.slice(0, MOST_LISTED).map((one) => {
    const { share, ground, by } = one.known;
    const how = [share && shareWords(share, ground), groundWords(ground, by)].filter(Boolean).join(', ');
    return `${one.metal} ${fineWords(one)} (${how})`;
  });
  return said.length > 0 ? `Holds ${said.join(', ')}.` : undefined;
};

/** `Pooled by weight: high-fell 60.00 %, Au 5.40 g; …`: of all of it, as it came to be. */
const sharesOf = (workspace: Workspace, { name }: LotStory): string | undefined => {
  const { metals, shares, lent } = accountsOf(workspace);
  const segment = metals.lineage.segmentAt(name);
  const pool = segment && shares(segment);
  const weight = segment?.start.weight.mass ?? segment?.start.weight.volume;
  if (!pool || !weight?.value.greaterThan(0)) return undefined;
  const said = ownerShares(pool, withoutLent(fineOf(metals.best(segment), fromMeasured(weight)), lent(segment)));
  return `Pooled by ${pool.by}: ${said.map((one) => `${one.owner} ${ownerShareWords(one)}`).join('; ')}.`;
};

const keepingOf = ({ owner, events, gone }: LotStory): string | undefined => {
  const place = gone ? undefined : events.findLast(({ flow, entry }) => flow?.said.at ?? entry.said.at);
  const at = (place?.flow?.said.at ?? place?.entry.said.at)?.name;
  const said = [owner && `owner ${owner.name}`, at && `at ${at}`].filter((part) => part !== undefined);
  const list = said.join(', ');
  return list === '' ? undefined : `${list[0]!.toUpperCase()}${list.slice(1)}.`;
};

const MOST_FINDINGS = 3;

const findingsOf = (workspace: Workspace, { events }: LotStory): string[] => {
  const entries = new Set(events.map(({ entry }) => entry));
  const found = [...entries].flatMap((entry) => {
    const places = events.filter((event) => event.entry === entry).map(({ place }) => place);
    return entryFindings(workspace, pageEntry(workspace, entry)).filter(({ place }) =>
      places.some((of) => of.anchor === place.anchor && overlaps(of, place)),
    );
  });
  const said = found.map(({ severity, says }) => `${severity}: ${says}`);
  return said.length > MOST_FINDINGS ? [...said.slice(0, MOST_FINDINGS), `${said.length - MOST_FINDINGS} more.`] : said;
};

/** The entry as it stands on its page, without its corrections: findings are kept by that. */
const pageEntry = ({ pages }: Workspace, entry: Entry): Entry =>
  pages.get(entry.anchor.file)?.entries.find(({ anchor }) => anchor === entry.anchor) ?? entry;
