/**
 * The balance of mass of one step: in + added = out + gas + absorbed + lost + unaccounted. One unknown weight is solved for; what is left
 * unaccounted is held against weighing, then against what such a step usually loses.
 */
import { decimal } from '../quantity/decimal';
import { add, exact, type Measured, measured, negate, subtract, uncertainty, withError } from '../quantity/measured';
import { differ, rectangular } from '../quantity/weighing';
import { lean } from '../text/lists';
import { isUsedCupel } from './accounts/destiny';
import { kindOf } from './alike';
import type { FlowWeight, OpenBecause, Step, UsualBand, Verdict } from './book';
import { addedParts, chargeOf, feedParts, gasOf, type MakeOf, metalFume, NO_GAS, slagFrom } from './charge';
import type { Entry, Flow } from './entry';
import type { GasGivenOff } from './gas';
import { type BalanceRow, balanceRow, type Charge, isSmelt, lossName, slagNotWeighed } from './usual';
import { disputed, recorded, UNKNOWN, weighAmount } from './weigh';
import type { Workshop } from './workshop';

/** What the record says of the lots as they enter the step. */
export interface Lookup {
  /** What is left of the flow's lot as it enters, in grams. */
  readonly before: (flow: Flow) => Measured | undefined;
  /** What the lot is; without it every lot is of unknown make. */
  readonly make?: MakeOf;
}

/**
 * The balance of an entry with flows, its `more` parts joined to it. Masses in grams.
 *
 * An `in` without amount takes what is left of its lot. A product that one part of the entry names and another weighs is weighed. Gas is
 * reckoned for `melt` and `cast` alone: where heat is there to drive something off, the loss is the result.
 */
export function stepOf(entry: Entry, workshop: Workshop, lookup: Lookup): Step {
  const flows = weighFlows(entry, workshop, lookup);
  const row = balanceRow(entry.verb);
  const vessels = vesselsIn(entry, flows.outputs, workshop);
  const added = addedParts(flows.added, workshop);
  const make = lookup.make ?? (() => undefined);
  const feed = feedParts(flows.inputs, workshop, make);
  const gas = row?.kind === 'melt' ? gasOf(added, feed) : NO_GAS;
  const material = soleMaterial(flows.inputs, make);
  const charge = chargeOf({
    added,
    feed,
    gasGrams: gas.grams,
    outputs: flows.outputs,
    material,
    cupelGain: vessels?.gain.value.toNumber(),
  });
  const gone = gasMass(gas);
  const isMetalHeat = row?.kind === 'melt' && slagNotWeighed(charge) && !isSmelt(charge);
  const slag = isMetalHeat ? slagFrom(flows.added, gone, workshop) : undefined;
  const known: Known = {
    ...flows,
    entry,
    gas: gone,
    slag,
    // What the flux loses as gas is not in its slag: together they are the flux. What fumes of the metal is in neither.
    doubt: slag
      ? { less: 0, more: metalFume([...added, ...feed]) }
      : { less: gas.grams - gas.low, more: gas.high - gas.grams },
    absorbed: vessels?.kept,
  };
  return {
    entry,
    ...flows,
    gas: known.gas,
    gasRange: { low: gas.low, high: gas.high },
    slag,
    absorbed: known.absorbed,
    carries: undefined,
    history: undefined,
    ...judge(known, row, charge, workshop, make),
  };
}

interface Flows {
  readonly inputs: readonly FlowWeight[];
  readonly added: readonly FlowWeight[];
  readonly outputs: readonly FlowWeight[];
  readonly lost: readonly FlowWeight[];
}

interface Known extends Flows {
  readonly entry: Entry;
  readonly gas: Measured;
  /** How much less and more gas than its best value the chemistry allows, in grams. */
  readonly doubt: { readonly less: number; readonly more: number };
  readonly slag: Measured | undefined;
  readonly absorbed: Measured | undefined;
}

type Judgement = Pick<Step, 'unaccounted' | 'verdict' | 'usual' | 'solved' | 'open' | 'openBecause' | 'alike'>;

function weighFlows(entry: Entry, workshop: Workshop, lookup: Lookup): Flows {
  const weighed = entry.flows.map((flow) => weighFlow(flow, workshop, lookup));
  const of = (word: Flow['word']) => lean(weighed.filter(({ flow }) => flow.word === word));
  return { inputs: of('in'), added: of('add'), outputs: lean(weighedOnce(of('out'))), lost: of('lost') };
}

/** `flow` first, then the spread: the other way round every object would get a hidden class of its own. */
function weighFlow(flow: Flow, workshop: Workshop, lookup: Lookup): FlowWeight {
  const label = flow.lot?.name ?? flow.material?.name ?? flow.kind ?? flow.word;
  const weight = weighAmount(flow.amount, flow.said, workshop, label);
  if (flow.word !== 'in' || weight.volume || flow.amount?.gross) return { flow, ...weight };
  const left = lookup.before(flow);
  // Of a lot that is used up nothing can be taken; that it was used again is said elsewhere, and here its weight proves nothing.
  const usedUp = left?.value.isZero() && left.errors.length === 0;
  if (weight.mass && usedUp) return { flow, ...weight, mass: disputed(weight.mass, weight.mass.value.toNumber()) };
  if (weight.mass || flow.part) return { flow, ...weight };
  const mass = left?.value.greaterThan(0) ? left : undefined;
  return { flow, ...recorded(mass, 'carried', { ...UNKNOWN, amount: flow.amount }) };
}

/** A product named without a weight and weighed on another line, or another day, is one product. */
function weighedOnce(outputs: readonly FlowWeight[]): FlowWeight[] {
  const named = new Set(outputs.filter(({ mass, volume }) => mass || volume).map(({ flow }) => flow.lot?.name));
  return outputs.filter(({ mass, volume, flow }) => mass || volume || !flow.lot || !named.has(flow.lot.name));
}

interface Vessels {
  readonly gain: Measured;
  /** What of the charge stayed in them and is no product. Below zero: their own weight, which is in a product. */
  readonly kept: Measured;
}

/**
 * What cupel and crucible gained between their two weighings. A cupel that is written as a product came in with its own weight `before`, and its
 * product is its weight after.
 */
function vesselsIn(entry: Entry, outputs: readonly FlowWeight[], workshop: Workshop): Vessels | undefined {
  const [gains, kept]: [Measured[], Measured[]] = [[], []];
  const products = outputs.flatMap(({ flow, mass }) => (isUsedCupel(flow.kind, entry.verb) && mass ? [mass] : []));
  const weighed = entry.gear.flatMap(({ word, item, said }) => {
    if ((word !== 'cupel-body' && word !== 'crucible') || !said.before) return [];
    const before = weighAmount(said.before, { scale: said.scale }, workshop, `${item.name} before`).mass;
    const after = said.after && weighAmount(said.after, { scale: said.scale }, workshop, `${item.name} after`).mass;
    return before ? [{ word, before, after }] : [];
  });
  const cupels = weighed.filter(({ word }) => word === 'cupel-body').map(({ before }) => before);
  const [own, written] = [cupels, products].map((masses) => (masses.length > 0 ? add(...masses) : undefined));
  const isProduct = own !== undefined && written?.value.greaterThanOrEqualTo(own.value) === true;
  if (isProduct) {
    gains.push(subtract(written, own));
    kept.push(negate(own));
  }
  for (const { word, before, after } of weighed) {
    if (!after || (isProduct && word === 'cupel-body')) continue;
    gains.push(subtract(after, before));
    kept.push(subtract(after, before));
  }
  return gains.length > 0 ? { gain: add(...gains), kept: add(...kept) } : undefined;
}

const gasMass = (gas: GasGivenOff): Measured =>
  gas === NO_GAS ? exact(decimal(0)) : measured(decimal(gas.grams), gas.u, 'gas from the fluxes');

function soleMaterial(inputs: readonly FlowWeight[], make: MakeOf): string | undefined {
  const materials = new Set(inputs.map(({ flow }) => lossName(make(flow))));
  const [material] = materials;
  return materials.size === 1 ? material : undefined;
}

function judge(known: Known, row: BalanceRow | undefined, charge: Charge, workshop: Workshop, make: MakeOf): Judgement {
  const unknown = unknownFlows(known);
  const because = whyOpen(known, row, charge, unknown, make);
  if (because) return open(because, because === 'unknowns' ? unknown : []);
  const rest = balance(known);
  const usual = withGas(usualBand(known, row, charge, workshop), known);
  const [flow] = unknown;
  if (flow) return solve(rest, flow, usual, known, workshop);
  const verdict = verdictOf(rest, usual, known, workshop);
  const learns = row !== undefined && usual.from === 'built-in' && verdict !== 'gain';
  const alike = learns ? kindOf(row, known, charge, make, workshop) : undefined;
  return { ...NOTHING_OPEN, unaccounted: rest, verdict, usual, alike };
}

const NOTHING_OPEN = { solved: undefined, open: [], openBecause: undefined } as const;

const open = (openBecause: OpenBecause, flows: readonly Flow[]): Judgement => ({
  unaccounted: undefined,
  verdict: 'open',
  usual: undefined,
  solved: undefined,
  open: flows,
  openBecause,
});

const allFlows = ({ inputs, added, outputs, lost }: Flows) => [...inputs, ...added, ...outputs, ...lost];

const unknownFlows = (flows: Flows): Flow[] =>
  allFlows(flows).flatMap(({ mass, volume, flow }) => (mass || volume ? [] : [flow]));

function whyOpen(
  known: Known,
  row: BalanceRow | undefined,
  charge: Charge,
  unknown: readonly Flow[],
  make: MakeOf,
): OpenBecause | undefined {
  if (row?.kind === 'sample') return 'sample';
  if (known.inputs.length + known.added.length === 0) return 'nothing in';
  if (known.outputs.length === 0) return 'nothing out';
  if (allFlows(known).some((flow) => isVolume(flow, make))) return 'volume';
  if (unknown.length > 1) return 'unknowns';
  if (unknown.length === 1 && row?.kind !== 'cold' && row?.kind !== 'melt') return 'unknowns';
  if (row?.kind === 'melt' && unknown.length === 0 && slagNotWeighed(charge) && isSmelt(charge)) return 'no slag';
  return undefined;
}

const isVolume = ({ volume, mass, flow }: FlowWeight, make: MakeOf): boolean =>
  volume !== undefined || (!mass && (flow.word === 'in' ? make(flow)?.kind : flow.kind) === 'solution');

function balance({ inputs, added, outputs, lost, gas, slag, absorbed }: Known): Measured {
  const masses = (flows: readonly FlowWeight[]) => flows.flatMap(({ mass }) => mass ?? []);
  const came = add(...masses(inputs), ...masses(added));
  const others = [gas, slag, absorbed].filter((mass) => mass !== undefined);
  return subtract(came, add(...masses(outputs), ...masses(lost), ...others));
}

/** The unknown weight makes the balance zero; it can be wrong by what such a step usually loses, and is never below nothing. */
function solve(rest: Measured, flow: Flow, usual: UsualBand, known: Known, workshop: Workshop): Judgement {
  const comes = flow.word === 'in' || flow.word === 'add';
  const value = comes ? subtract(exact(decimal(0)), rest) : rest;
  const spread = rectangular(Math.max(Math.abs(usual.low), Math.abs(usual.high)));
  if (value.value.isNegative() && !withinWeighing(rest, known, workshop)) {
    // More out than in although one product is not weighed yet, or more in than out although one input is not.
    const grams = rest.value.toNumber();
    const within = grams > 0 ? grams <= usual.high : grams >= usual.low;
    const verdict: Verdict = within ? 'usual' : comes ? 'high' : 'gain';
    return { ...NOTHING_OPEN, unaccounted: rest, verdict, usual };
  }
  const mass = value.value.isNegative() ? { ...value, value: decimal(0) } : value;
  const solved = { flow, mass: withError(mass, { label: 'usual loss' }, spread) };
  return { ...NOTHING_OPEN, unaccounted: undefined, verdict: 'solved', usual, solved };
}

/** The shop's own figure by verb and material, then by verb, comes before the built-in one; it is a share of all that went in. */
function usualBand(known: Known, row: BalanceRow | undefined, charge: Charge, { limits }: Workshop): UsualBand {
  const builtIn: UsualBand = row
    ? { from: 'built-in', ...row.band(charge) }
    : { low: 0, high: 0, from: 'built-in', why: 'nothing is known of this kind of step' };
  const { verb } = known.entry;
  const own = limits.usualLoss.get(`${verb} ${charge.material}`) ?? limits.usualLoss.get(verb);
  if (!own) return builtIn;
  const all = throughput(known);
  const low = Math.min(builtIn.low, own.low * all);
  return {
    low: Math.min(0, low),
    high: own.high * all,
    from: 'workshop',
    why: 'usual loss stated in the workshop file',
  };
}

/** Gas that the chemistry leaves open may be missing, or be there, without surprise. */
function withGas(usual: UsualBand, { doubt }: Known): UsualBand {
  if (doubt.less + doubt.more < 1e-9) return usual;
  const why = `${usual.why}; and gas that the make of the charge leaves open`;
  return {
    ...usual,
    low: usual.low - doubt.less,
    high: usual.high + doubt.more,
    why,
    gasOpen: { less: doubt.less, more: doubt.more },
  };
}

/** All that went in, in grams. */
export const throughput = ({ inputs, added }: Pick<Step, 'inputs' | 'added'>): number =>
  [...inputs, ...added].reduce((sum, { mass }) => sum + (mass?.value.toNumber() ?? 0), 0);

function verdictOf(rest: Measured, usual: UsualBand, known: Known, workshop: Workshop): Verdict {
  if (withinWeighing(rest, known, workshop)) return 'closed';
  const grams = rest.value.toNumber();
  const reach = workshop.limits.coverage * uncertainty(weighedPart(rest, known));
  if (grams < 0) return usual.low < 0 && grams >= usual.low - reach ? 'usual' : 'gain';
  return usual.high > 0 && grams <= usual.high + reach ? 'usual' : 'high';
}

/**
 * Explained by weighing: within k standard uncertainties; where only two weights meet, also within what their roundings can reach; and
 * within the shop's own limit of closure.
 */
function withinWeighing(rest: Measured, known: Known, { limits }: Workshop): boolean {
  const flows = allFlows(known).filter(({ mass }) => mass && !mass.value.isZero());
  const [first, second] = flows.length === 2 ? flows : [];
  const divisions = [first?.divisionGrams ?? 0, second?.divisionGrams ?? 0] as const;
  if (differ(exact(decimal(0)), weighedPart(rest, known), limits.coverage, divisions).explained) return true;
  return limits.closure !== undefined && Math.abs(rest.value.toNumber()) <= limits.closure * throughput(known);
}

/** The balance with the errors of weighing alone: what is not known of the gas is no error of a scale. */
export function weighedPart(rest: Measured, { gas }: Pick<Step, 'gas'>): Measured {
  const ofGas = new Set(gas.errors.map(({ source }) => source));
  return ofGas.size === 0 ? rest : { ...rest, errors: rest.errors.filter(({ source }) => !ofGas.has(source)) };
}
