/** Fluxes for a melt: in the shop's own recipe where one fits, else from the shelf. */
import { sodaForChloride } from '../engine/bench/chloride';
import { adjustTo, glassForSilica } from '../engine/bench/degree';
import { type FluxAdvice, fluxFor, toDegree } from '../engine/bench/flux';
import { type Assumption, type Estimate, exactly, less, over, sumOf, times } from '../engine/bench/result';
import { pureItem, type Slag, slagOf } from '../engine/bench/slag';
import { BASIC_BELOW, slagWarnings } from '../engine/bench/slag-warnings';
import type { Flow } from '../engine/entry';
import type { ChargeItem } from '../engine/gas';
import { expandRecipe, findMaterial } from '../engine/shelf';
import { decimal } from '../quantity/decimal';
import { massFraction } from '../vocabulary/compounds';
import type { Advice, Topic, Working, Writing } from './advice';
import { isCollectorToCome } from './collector';
import {
  charcoalRow,
  FLUX,
  feedRows,
  fluxRows,
  GLASS_PER_CRYSTALS,
  makeGround,
  notKnown,
  recipeRow,
  refused,
  silicaRow,
  sodaRow,
} from './flux-words';
import type { Job } from './job';
import { isAgentToCome } from './lead-button';
import { leadFrom } from './lead-from';
import { slagAim } from './slag-aim';
import { isChloride, isFlux, isOf, isSlagAgain, openAdds, type Smelt, smeltOf } from './smelt';
import { isSulphurLeft } from './sulphur';
import { sulphurTakenBy, withoutSulphides } from './sulphur-taken';
import { openAdditions } from './target';
import { bestWords, estimateWords, guessWords, rangeWords, termWords } from './words';

export const flux: Topic = (job) => {
  if (!job.planned || job.entry.verb !== 'melt') return [];
  const smelt = smeltOf(job);
  if (!smelt) return [];
  if (smelt.unknown.length > 0) return [notKnown(job, smelt)];
  // Of metal that is still to be added the cover is for all.
  if (smelt.solid && openAdditions(job).length > 0) return [];
  // It was fluxed once: what it wants more is told beside it.
  if (smelt.feed.every(isSlagAgain)) return [];
  if (isChloride(smelt)) return [];
  if (isCollectorToCome(job) || isAgentToCome(job)) return [];
  const open = openAdds(job.entry).filter(({ material }) => isSlagMaker(job, material!.name));
  const isFluxed = job.step!.added.some(({ flow, mass }) => mass && isFlux(job, flow.material?.name ?? ''));
  if (isFluxed && open.length === 0) return [];
  if (isSulphurLeft(job, smelt)) return [];
  const feed = withoutSulphides(smelt.feed, sulphurTakenBy(smelt));
  const found = fluxFor(feed, slagAim(job), { beside: smelt.added, solid: smelt.solid, ...reducedIn(smelt) });
  if (!found.value) return [refused(job, found)];
  const named: Choice = open.length > 0 ? opened(job, smelt, feed, found.value, open) : { adds: [], why: '' };
  // None of what was named is of use: the shelf has what is.
  const choice =
    named.adds.length > 0 || isFluxed ? named : { ...chosen(job, smelt, feed, found.value), ...noneOf(named) };
  if (choice.adds.length === 0 && !choice.none?.length) return [];
  return [advised(job, feed, found.value, choice, found.assumed)];
};

const noneOf = ({ none }: Choice): Pick<Choice, 'none'> => (none ? { none } : {});

/** Litharge that is brought down as lead is no base of the slag. */
const reducedIn = (smelt: Smelt) => ({ leadReducedGrams: leadFrom(smelt)?.grams.best ?? 0 });

/** Wants an amount from this question: fluxes, and what reduces for their sake. */
const isSlagMaker = (job: Job, name: string): boolean => isFlux(job, name) || isOf(job, name, new Set(['reductant']));

interface Add {
  readonly name: string;
  readonly grams: Estimate;
  readonly flow?: Flow | undefined;
}

interface Choice {
  readonly adds: readonly Add[];
  /** What was chosen and why, as a sentence. */
  readonly why: string;
  /** Lines that ask for what the charge wants none of. */
  readonly none?: readonly Flow[];
  /** The way to amounts of lines that stand there; else that of a charge from the shelf. */
  readonly rows?: readonly string[];
}

/** Less than this share of the feed is not worth a line. */
const LEAST = 0.01;
const LEAST_CHARCOAL = 0.003;
/** Nor is less than this weighed out for a crucible. */
const LEAST_GRAMS = 0.05;

const gramsOf = (items: readonly ChargeItem[]): number => items.reduce((so, { massGrams }) => so + massGrams, 0);

const worth = (adds: readonly Add[], feed: number): readonly Add[] =>
  adds.filter(
    ({ name, grams }) => grams.best > LEAST_GRAMS && grams.best > (name === 'charcoal' ? LEAST_CHARCOAL : LEAST) * feed,
  );

const chosen = (job: Job, smelt: Smelt, feed: readonly ChargeItem[], wants: FluxAdvice): Choice => {
  const whole = gramsOf(feed);
  const isReduced = smelt.added.some(({ material }) => isOf(job, material.name, new Set(['reductant'])));
  const charcoal = isReduced ? [] : [{ name: 'charcoal', grams: wants.charcoalGrams }];
  const recipe = recipeFor(job, smelt, feed, wants);
  if (recipe)
    return {
      adds: worth([recipe, ...charcoal], whole),
      why: `The shop's ${recipe.name} fits: as much of it as leaves the slag that the feed wants.`,
    };
  const adds = [
    { name: 'borax-glass', grams: times(wants.boraxCrystalsGrams, GLASS_PER_CRYSTALS) },
    { name: 'soda-ash', grams: wants.sodaAshGrams },
    { name: 'silica', grams: wants.silicaGrams },
    ...charcoal,
  ];
  const tried = job.workspace.workshop.recipes.size > 0;
  return { adds: worth(adds, whole), why: tried ? 'No recipe of the shop fits this feed.' : '' };
};

/** The recipe whose slag comes nearest to that of a charge from the shelf; of solid metal, the one with most borax. */
const recipeFor = (
  job: Job,
  smelt: Smelt,
  feed: readonly ChargeItem[],
  wants: FluxAdvice,
): (Add & { readonly score: number }) | undefined => {
  const { workshop } = job.workspace;
  const wanted = slagOf([
    pureItem('Na2B4O7·10H2O', wants.boraxCrystalsGrams.best),
    pureItem('Na2CO3', wants.sodaAshGrams.best),
    pureItem('SiO2', wants.silicaGrams.best),
  ]).grams.best;
  const fit = [...workshop.recipes.keys()].flatMap((name) => {
    const one = recipeItems(job, name, 1);
    if (!one || !isFlux(job, name)) return [];
    const each = slagOf(one).grams.best;
    if (!(each > 0)) return [];
    const grams = wanted / each;
    const charge = [...feed, ...smelt.added, ...recipeItems(job, name, grams)!];
    const slag = slagOf(charge, reducedIn(smelt));
    const burns = one.some(({ material }) => isOf(job, material.name, new Set(['oxidant'])));
    if ((burns && wants.charcoalGrams.best > 0) || (!smelt.solid && !isSound(slag, charge, wants))) return [];
    return [
      {
        name,
        grams: over(times(slagRange(wants), grams), wanted),
        score: smelt.solid ? -slag.borateFraction : farness(slag, wants),
      },
    ];
  });
  return fit.sort((a, b) => a.score - b.score)[0];
};

const recipeItems = (job: Job, name: string, grams: number): readonly ChargeItem[] | undefined => {
  const parts = expandRecipe(job.workspace.workshop, name, decimal(grams));
  const items = parts?.flatMap(({ material, grams: size }) => {
    const found = findMaterial(job.workspace.workshop, material);
    return found && found.group !== 'metal' ? [{ material: found, massGrams: size.toNumber(), u: 0 }] : [];
  });
  return items && items.length === parts!.length ? items : undefined;
};

/** A recipe fits where its slag comes within this factor of the degree of a charge from the shelf: a guess. */
const NEAR = 1.6;
const NEAR_CHOSEN = 1.1;

const isSound = (slag: Slag, charge: readonly ChargeItem[], wants: FluxAdvice): boolean => {
  const { aim } = wants;
  if (!slag.degree || farness(slag, wants) > Math.log(aim.chosen ? NEAR_CHOSEN : NEAR)) return false;
  if (!aim.chosen && slag.degree.best < BASIC_BELOW) return false;
  return slagWarnings(slag, charge, aim).every(({ what }) => what === 'ferric' || what === 'stiff');
};

const farness = ({ degree }: Slag, wants: FluxAdvice): number => {
  const aim = wants.slag.degree?.best ?? wants.aim.degree.best;
  return Math.abs(Math.log((degree?.best ?? 0) / aim));
};

/** Slag of the fluxes, from the least to the most of each, g. */
const slagRange = ({ boraxCrystalsGrams: borax, sodaAshGrams: soda, silicaGrams: silica }: FluxAdvice): Estimate => {
  const at = (end: keyof Estimate): number =>
    slagOf([
      pureItem('Na2B4O7', borax[end] * GLASS_PER_CRYSTALS),
      pureItem('Na2CO3', soda[end]),
      pureItem('SiO2', silica[end]),
    ]).grams.best;
  const [low, best, high] = [at('low'), at('best'), at('high')];
  return { low: Math.min(low, best), best, high: Math.max(best, high) };
};

/** Amounts for the lines that stand there without one: borax as wanted, soda or silica to the preferred degree. */
const opened = (
  job: Job,
  smelt: Smelt,
  feed: readonly ChargeItem[],
  wants: FluxAdvice,
  open: readonly Flow[],
): Choice => {
  const recipe = open.find(({ material }) => recipeItems(job, material!.name, 1));
  if (recipe) {
    const name = recipe.material!.name;
    const wanted = slagRange(wants);
    const there = slagOf(smelt.added).grams.best;
    const each = slagOf(recipeItems(job, name, 1)!).grams.best;
    const grams = over(less(wanted, { best: there, low: there, high: there }), each);
    return { adds: grams.best > 0 ? [{ name, grams, flow: recipe }] : [], why: '' };
  }
  const adds: Add[] = [];
  const rows: string[] = [];
  let charge: readonly ChargeItem[] = [...feed, ...smelt.added];
  const put = (flow: Flow, grams: Estimate): void => {
    const name = flow.material!.name;
    adds.push({ name, grams, flow });
    const material = findMaterial(job.workspace.workshop, name);
    if (material) charge = [...charge, { material, massGrams: grams.best, u: 0 }];
  };
  const find = (pick: (what: string) => boolean): Flow | undefined =>
    open.find(({ material }) =>
      findMaterial(job.workspace.workshop, material!.name)?.composition.some(
        ({ what, fraction }) => fraction > 0.5 && pick(what),
      ),
    );
  const borax = find((what) => what.startsWith('Na2B4O7'));
  if (borax) put(borax, perBorax(job, borax.material!.name, wants.boraxCrystalsGrams));
  const soda = find((what) => what in SODA);
  const silica = find((what) => what === 'SiO2');
  if (soda) {
    const share = SODA[dominant(job, soda.material!.name)]!;
    if (!silica) rows.push(sodaRow(slagOf(charge, reducedIn(smelt)), wants.aim.degree.best));
    // Beside an open silica the soda is as wanted, and the silica comes to it.
    const asBase = toDegree(slagOf(charge, reducedIn(smelt)), wants.aim).sodaAshGrams;
    const own = silica ? wants.sodaAshGrams : sumOf([asBase, exactly(sodaForChloride(charge))]);
    put(soda, times(own, share));
  }
  if (silica) {
    const slag = slagOf(charge, reducedIn(smelt));
    const { best } = wants.aim.degree;
    rows.push(silicaRow(slag, best));
    const need = adjustTo(slag, best).value!.silicaGrams;
    const isGlass = dominantShare(job, silica.material!.name) < 0.9;
    const by = isGlass ? (glassForSilica(1, best).value ?? 1) : 1;
    put(silica, times(need, by));
  }
  const carbon = open.find(({ material }) => material!.name in CARBON);
  if (carbon) put(carbon, times(wants.charcoalGrams, CARBON[carbon.material!.name]!));
  const wanted = adds.filter(({ grams }) => grams.best > 0);
  const none = adds.flatMap(({ grams, flow }) => (flow && !(grams.best > 0) ? [flow] : []));
  return { adds: wanted, why: '', rows, none };
};

const perBorax = (job: Job, name: string, crystals: Estimate): Estimate => {
  const what = dominant(job, name);
  return times(crystals, massFraction('Na2B4O7·10H2O', 'B') / massFraction(what, 'B'));
};

const dominant = (job: Job, name: string): string =>
  [...(findMaterial(job.workspace.workshop, name)?.composition ?? [])].sort((a, b) => b.fraction - a.fraction)[0]!.what;

const dominantShare = (job: Job, name: string): number =>
  Math.max(...(findMaterial(job.workspace.workshop, name)?.composition ?? []).map(({ fraction }) => fraction));

/** Of each soda, g that do the work of 1 g soda ash, by the sodium in it. */
const SODA: Readonly<Record<string, number>> = Object.fromEntries(
  ['Na2CO3', 'NaHCO3', 'Na2CO3·10H2O'].map((what) => [what, massFraction('Na2CO3', 'Na') / massFraction(what, 'Na')]),
);

/** g that do the work of 1 g charcoal: 22.6, 11.2 and 5.6 g lead a gram (Beringer & Beringer 1904). */
const CARBON: Readonly<Record<string, number>> = { charcoal: 1, flour: 22.6 / 11.2, tartar: 22.6 / 5.6 };

const advised = (
  job: Job,
  feed: readonly ChargeItem[],
  wants: FluxAdvice,
  { adds, why, rows, none = [] }: Choice,
  assumed: readonly Assumption[],
): Advice => {
  const words = adds.map(({ name, grams }) => `${rangeWords(grams, 'g')} ${name}`);
  const recipe = adds.find(({ name, flow }) => !flow && job.workspace.workshop.recipes.has(name));
  const working = (): Working => ({
    says: `For ${bestWords(exactly(wants.coveredGrams ?? gramsOf(feed)), 'g')} of ${wants.kind === 'clean metal' ? 'metal' : 'feed'} add ${words.join(', ')}.${why === '' ? '' : ` ${why}`}`,
    rows: [
      ...feedRows(feed, wants),
      ...(rows ?? fluxRows(wants)),
      ...(recipe ? [recipeRow(recipe.name, slagRange(wants), recipe.grams)] : []),
      ...(adds.some(({ name }) => name === 'charcoal') ? charcoalRow(wants) : []),
      ...adds.map(({ name, grams }) => `add ${name.padEnd(16)}${estimateWords(grams, 'g')}`),
    ],
    assumed: [
      ...(wants.kind === 'clean metal' ? [] : makeGround(feed)),
      // Borax that stands there already was reckoned by nobody.
      ...assumed.filter(
        ({ says }) => !(rows && /\bborax\b/.test(says)) || adds.some(({ name }) => name.startsWith('borax')),
      ),
    ],
  });
  const writes = adds.map(({ name, grams, flow }): Writing => {
    const range = `${name} ${rangeWords(grams, 'g')}`;
    // A degree that was chosen wants a digit more to be met.
    const amount = wants.aim.chosen ? `~${termWords(grams.best, 'g')}` : guessWords(grams, 'g');
    return flow ? { flow, amount, range } : { part: 'add', line: `add ${name} ${amount}`, range };
  });
  for (const flow of none) writes.push({ flow, amount: '0 g', range: `no ${flow.material!.name}` });
  return { topic: FLUX, at: job.entry.head, rank: 'result', working, writes };
};
