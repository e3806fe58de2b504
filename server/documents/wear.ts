/** What the gear has been through: cupels with what they drank, heats of crucibles and furnaces, checks of scales. */
import { fromMeasured } from '../engine/accounts/inexact';
import { celsiusOf } from '../engine/clock';
import type { Gear } from '../engine/entry';
import { counts, livesUntil, usualLifeOf } from '../engine/longview/crucibles';
import { weighAmount } from '../engine/weigh';
import { type Measured, subtract, uncertainty } from '../quantity/measured';
import { scaleDriftsIn } from '../reports/history/drifts';
import { listWords, stepWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import { longViewOf } from '../workspace/long-view';
import type { Workspace } from '../workspace/workspace';
import { count, goldAndSilver, grams, mass, plainFigure, typed } from './cells';
import { type Choice, isWithin } from './choice';
import { countedEntries, stepsWithin } from './entries';
import { feedNames, gearNames, ownersIn, usesOf } from './gear';
import { type Column, NOTHING, type Row, type Section, says, section, sentences, table, words } from './model';

const CUPELS: readonly Column[] = [
  { head: 'cupel' },
  { head: 'step' },
  { head: 'day' },
  { head: 'before', right: true },
  { head: 'drank', right: true },
  { head: 'of its own weight', right: true },
  { head: 'gold held', right: true },
  { head: 'silver held', right: true },
  { head: 'now' },
];

export const cupelSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const rows = stepsWithin(workspace, choice).flatMap((step): readonly Row[] =>
    accountsOf(workspace)
      .cupels(step)
      .map(({ name, entry, fine, gone, at, place }): Row => {
        const gear = step.entry.gear.find(({ word, item }) => word === 'cupel-body' && item.name === name);
        const [before, after] = [weighed(workspace, gear, 'before'), weighed(workspace, gear, 'after')];
        const drank = before && after && subtract(after, before);
        return {
          cells: [
            words(name),
            words(stepWords(entry)),
            words(entry.date),
            before ? mass(before) : NOTHING,
            drank ? mass(drank) : NOTHING,
            before && drank ? plainFigure(drank.value.div(before.value).times(100).toNumber(), '%', 2) : NOTHING,
            ...goldAndSilver(fine),
            words(
              gone
                ? `${gone.discarded ? 'thrown away' : 'a lot of its own'} ${gone.date}`
                : at
                  ? `at ${at.name}`
                  : 'on hand',
            ),
          ],
          place,
        };
      }),
  );
  return section('Cupels', table(CUPELS, rows));
};

const weighed = ({ workshop }: Workspace, gear: Gear | undefined, when: 'before' | 'after'): Measured | undefined =>
  gear?.said[when] &&
  weighAmount(gear.said[when], { scale: gear.said.scale }, workshop, `${gear.item.name} ${when}`).mass;

const CRUCIBLES: readonly Column[] = [
  { head: 'crucible' },
  { head: 'heats in the period', right: true },
  { head: 'in all', right: true },
  { head: 'usually lasts', right: true },
  { head: 'last heat' },
  { head: 'day' },
  { head: 'last held' },
  { head: 'metal of' },
  { head: 'gained in it', right: true },
];

export const crucibleSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const lives = livesUntil(longViewOf(workspace).crucibles(), choice.to);
  const rows = gearNames(workspace, 'crucible').flatMap((name): readonly Row[] => {
    const life = lives.find((one) => one.name === name);
    const named = usesOf(workspace, 'crucible', name).filter(
      ({ step: { entry } }) => choice.to === undefined || (entry.date ?? '') <= choice.to,
    );
    const ofThisOne = named.filter(({ step }) => counts(step.entry, life?.crucible));
    const isOlder = !ofThisOne.some(({ step }) => isWithin(choice, step.entry.date));
    // In a period before its day, what bore the name was another one.
    const uses = isOlder ? named : ofThisOne;
    const own = uses.filter(({ step }) => isWithin(choice, step.entry.date));
    const last = own.at(-1);
    if (!last) return [];
    const { step, gear } = last;
    const usual = life && !isOlder ? usualLifeOf(life, lives) : undefined;
    const [before, after] = [weighed(workspace, gear, 'before'), weighed(workspace, gear, 'after')];
    const owners = [...new Set(own.flatMap((one) => ownersIn(workspace, one.step)))].sort();
    return [
      {
        cells: [
          words(name),
          count(own.length),
          count(uses.length),
          usual
            ? { ...count(usual.heats), text: `${usual.heats} heats${uses.length > usual.heats ? ': past it' : ''}` }
            : NOTHING,
          words(stepWords(step.entry)),
          words(step.entry.date),
          words(`${listWords(feedNames(step))} of ${listWords(ownersIn(workspace, step))}`),
          words(listWords(owners)),
          before && after ? mass(subtract(after, before)) : NOTHING,
        ],
        place: gear.item.place,
      },
    ];
  });
  const isKnown = rows.some(({ cells }) => cells[3]!.text !== '');
  const unknown = says(
    'How many heats a crucible lasts is not known: write `heats` in workshop.yaml, or `until` for those that were given up.',
  );
  return section('Crucibles', table(CRUCIBLES, rows), rows.length > 0 && !isKnown ? sentences([unknown]) : undefined);
};

export const furnaceSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const rows = gearNames(workspace, 'furnace').flatMap((name): readonly Row[] => {
    const own = usesOf(workspace, 'furnace', name).filter(({ step }) => isWithin(choice, step.entry.date));
    if (own.length === 0) return [];
    const hottest = Math.max(
      ...own.flatMap(({ step }) => step.entry.clocks.flatMap((clock) => celsiusOf(clock) ?? [])),
    );
    const last = own.at(-1)!.step.entry;
    return [
      {
        cells: [
          words(name),
          count(own.length),
          Number.isFinite(hottest)
            ? { ...plainFigure(hottest, '°C'), text: `${Number(hottest.toFixed(1))} °C` }
            : NOTHING,
          words(stepWords(last)),
          words(last.date),
        ],
        place: last.head,
      },
    ];
  });
  const columns = ['furnace', 'heats in the period', 'hottest written', 'last heat', 'day'];
  return section(
    'Furnaces',
    table(
      columns.map((head, at) => ({ head, right: at === 1 || at === 2 })),
      rows,
    ),
  );
};

/** Each check with its weight: what the scale showed more or less than that. */
export const scaleSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const { workshop } = workspace;
  const rows = countedEntries(workspace)
    .filter(({ verb, date }) => verb === 'check-scale' && isWithin(choice, date))
    .map((entry): Row => {
      const reads = entry.others.find(({ word }) => word === 'reads')?.amounts[0];
      const scale = entry.name;
      const shown = reads && weighAmount(reads, { ...(scale ? { scale } : {}) }, workshop, 'check').mass;
      const weight = entry.amount && weighAmount(entry.amount, {}, workshop, 'check weight').mass;
      const off = shown && weight && { ...shown, value: shown.value.minus(weight.value) };
      const explained = off && Math.abs(off.value.toNumber()) <= workshop.limits.coverage * uncertainty(shown);
      return {
        cells: [
          words(scale?.name),
          words(entry.date),
          words(entry.amount && typed(entry.amount)),
          words(reads && typed(reads)),
          off ? grams(fromMeasured(off)) : NOTHING,
          words(explained === undefined ? '' : explained ? 'within what it can show' : 'farther off than it can show'),
        ],
        place: entry.head,
      };
    });
  const columns = ['scale', 'day', 'check weight', 'read', 'off by', 'so'];
  const drifts = scaleDriftsIn(longViewOf(workspace), workshop.limits).filter(({ told }) =>
    isWithin(choice, told.entry.date),
  );
  return section(
    'Scales checked',
    table(
      columns.map((head, at) => ({ head, right: at > 1 && at < 5 })),
      rows,
    ),
    drifts.length > 0 ? sentences(drifts.map((drift) => says(drift.says, drift.told.place))) : undefined,
  );
};
