/** What is known of a step where its work can hurt: what it does, what lies there, what that is made of. */
import type { Situation } from '../engine/bench/hazards';
import type { Entry, Flow } from '../engine/entry';
import type { MaterialLike } from '../vocabulary/materials';
import { contentsOf, type Job, knowledgeOf, partsOf } from './job';
import { furnaceOf } from './molten';

/** A constituent below this share of its material sets nothing off. */
const LEAST_SHARE = 0.001;
/** Of a solution, g/mL. */
const LEAST_DISSOLVED = 0.0001;

export const situationOf = (job: Job): Situation => {
  const { entry, step, workspace } = job;
  const materials = new Set<string>();
  const substances = new Set<string>();
  const take = ({ name, composition }: MaterialLike): void => {
    materials.add(name);
    for (const { what, fraction } of composition) if (fraction >= LEAST_SHARE) substances.add(what);
  };
  const { feed, added } = partsOf(job);
  for (const { item, material } of [...feed, ...added]) if (material) take(item.material);
  for (const { material } of entry.flows) if (material) materials.add(material.name);
  for (const input of step?.inputs ?? []) {
    const made = workspace.book.make(input.flow);
    if (made?.material) materials.add(made.material);
    if (isRetorted(made?.kind, input.flow, job)) materials.add('retort-sponge');
    const contents = contentsOf(job, input);
    for (const [symbol, metal] of contents?.metals ?? [])
      if (metal.best >= LEAST_SHARE * contents!.grams.best) substances.add(symbol);
    // A solution is measured by volume, and a gram of silver in a litre is enough to hurt.
    if (!contents)
      for (const [symbol, { share, high }] of knowledgeOf(job, input.flow))
        if ((share?.value ?? high) >= LEAST_DISSOLVED) substances.add(symbol);
  }
  for (const said of saidOf(job)) for (const [word, sets] of SAID) if (said.includes(word)) sets(materials, substances);
  const furnace = furnaceOf(job);
  if (furnace?.heating === 'gas') materials.add('gas-furnace');
  return { verb: entry.verb, materials, substances };
};

/** Sponge of a retort; what an acid or a precipitant left is sponge too, and never saw mercury. */
const isRetorted = (kind: string | undefined, { lot }: Flow, { workspace }: Job): boolean => {
  const birth = lot && workspace.book.lot(lot.name)?.births[0];
  return kind === 'sponge' && birth?.entry.verb === 'retort';
};

type Sets = (materials: Set<string>, substances: Set<string>) => void;

const substance =
  (symbol: string): Sets =>
  (_, substances) =>
    substances.add(symbol);
const material =
  (name: string): Sets =>
  (materials) =>
    materials.add(name);

/** Words of remarks that tell of what no line names. */
const SAID: readonly (readonly [string, Sets])[] = [
  ['mercury', substance('Hg')],
  ['quicksilver', substance('Hg')],
  ['amalgam', substance('Hg')],
  ['white spot', substance('Hg')],
  ['brass', substance('Zn')],
  ['solder', substance('Zn')],
  ['cadmium', substance('Cd')],
  ['beryllium', substance('Be')],
  ['plastic', material('plastic')],
  ['epoxy', material('plastic')],
  ['tape', material('plastic')],
];

/** Remarks of the step, and of where its lots came in. */
const saidOf = ({ entry, step, workspace }: Job): readonly string[] => {
  const births = (step?.inputs ?? []).flatMap(({ flow: { lot } }) =>
    (lot ? (workspace.book.lot(lot.name)?.births ?? []) : []).map((birth) => birth.entry),
  );
  return [entry, ...births].flatMap(notesOf).map((note) => note.toLowerCase());
};

const notesOf = ({ said, flows }: Entry): readonly string[] => [
  ...(said.notes ?? []),
  ...flows.flatMap((flow) => flow.said.notes ?? []),
];
