/** What must still be weighed or written, and what it would close: the oldest first. For the command line and the editor alike. */
import type { Account, LotStory, Step } from '../engine/book';
import type { Amount, Entry, Flow, Said } from '../engine/entry';
import { throughput } from '../engine/step';
import { showMoney } from '../quantity/money';
import { showMass } from '../quantity/show';
import type { Section } from '../syntax/tree';
import { type Place, placeIn } from '../text/place';
import type { Span } from '../text/span';
import { inOrder } from '../workspace/order';
import { billOf } from '../workspace/selling/bills';
import { salesOf } from '../workspace/selling/sales';
import { settlementOf } from '../workspace/selling/settlements';
import type { Workspace } from '../workspace/workspace';
import { metalDueBack } from './selling/settled';
import { chargeOf } from './wording';
import { flowWords, listWords, stepWords } from './words';

export interface Unfinished {
  /** Where the hand will write it. */
  readonly place: Place;
  readonly entry: Entry;
  /** What to do, and what that is good for: `Weigh S57 to close melt M57.` */
  readonly says: string;
  /** The step that it closes or checks, as `melt M57`; none where it closes none. */
  readonly closes: string | undefined;
}

/** Of these files, or of the whole journal. */
export const unfinishedOf = (workspace: Workspace, files: Iterable<string> = workspace.pages.keys()): Unfinished[] => {
  const entries = [...files].flatMap((file) => workspace.pages.get(file)?.entries ?? []);
  return entries.sort(inOrder(workspace.pages)).flatMap((entry) => unfinishedIn(workspace, entry));
};

const unfinishedIn = (workspace: Workspace, entry: Entry): Unfinished[] => {
  if (entry.broken || (entry.prefix !== undefined && entry.prefix !== 'more')) return [];
  const account = workspace.book.account(entry);
  const counted = account.parts.find((part) => part.anchor === entry.anchor);
  if (!counted) return [];
  const found = [
    ...ofStep(account, counted),
    ...ofHead(account, counted, workspace),
    ...ofGear(counted),
    ...ofReadings(counted),
    ...ofDetails(counted),
    ...ofNames(entry),
    ...ofMoney(workspace, entry),
  ];
  return found.sort((a, b) => a.place.start - b.place.start);
};

const ofStep = (account: Account, entry: Entry): Unfinished[] => {
  const { step } = account;
  if (!step) return [];
  const name = stepWords(step.entry);
  const here = unweighed(step).filter(({ place }) => place.anchor === entry.anchor);
  const flows = here.flatMap((flow) => {
    const says = flowSays(flow, step, account);
    return says === undefined ? [] : [{ place: flow.amount?.place ?? flow.place, entry, says, closes: name }];
  });
  const first = account.parts[0]?.anchor === entry.anchor;
  const says = first ? headSays(step, name) : undefined;
  return says === undefined ? flows : [{ place: entry.head, entry, says, closes: name }, ...flows];
};

const unweighed = ({ inputs, added, outputs, lost }: Step): Flow[] =>
  [...inputs, ...added, ...outputs, ...lost].flatMap(({ flow, mass, volume }) => (mass || volume ? [] : [flow]));

const headSays = (step: Step, name: string): string | undefined => {
  switch (step.openBecause) {
    case 'no slag':
      return `Weigh the slag, or write \`out none slag\`, to close ${name}.`;
    case 'nothing in':
      return `Write what went into ${name}.`;
    case 'nothing out': {
      const charge = throughput(step) > 0 ? `: ${showMass(chargeOf(step))} went in` : '';
      return `Write what came out of ${name}${charge}.`;
    }
    default:
      return undefined;
  }
};

const flowSays = (flow: Flow, step: Step, { lots }: Account): string | undefined => {
  const name = flowWords(flow);
  const story = flow.lot && lots.get(flow.lot.name);
  if (isUnread(flow.amount)) return undefined;
  // A lot that came in without a weight is asked for where it came in; one in volume has no weight.
  if (flow.word === 'in' && !flow.part && story && (cameUnweighed(story) || isVolume(story))) return undefined;
  const later = flow.word === 'out' ? weighedIn(story) : undefined;
  if (step.solved?.flow === flow) {
    if (story?.gone && !later) return undefined;
    const mass = showMass(step.solved.mass);
    return `${todo(name, flow.amount, story, later)}: the balance of ${stepWords(step.entry)} leaves ${mass}, and nothing checks it.`;
  }
  const what = todo(name, flow.amount, story, later);
  if (step.openBecause === 'sample') return `${what} to know what is left of its lot.`;
  const others = step.open.filter((other) => other !== flow).map(flowWords);
  const rest = others.length > 0 ? `; ${listWords(others)} ${others.length > 1 ? 'are' : 'is'} missing too` : '';
  return `${what} to close ${stepWords(step.entry)}${rest}.`;
};

const todo = (
  name: string,
  amount: Amount | undefined,
  story: LotStory | undefined,
  later: { readonly entry: Entry; readonly mass: string } | undefined,
): string => {
  if (amount?.gross && amount.figure) return `Write the tare of ${name}`;
  if (later) return `Write what ${name} weighed (${later.mass} in ${stepWords(later.entry)})`;
  return story?.gone ? `Write what ${name} weighed` : `Weigh ${name}`;
};

/** A figure stands there that is no weight: it has a finding of its own. */
const isUnread = (amount: Amount | undefined): boolean => amount?.figure !== undefined && !amount.gross;

const isVolume = ({ events }: LotStory): boolean => events.some(({ weight }) => weight.volume);

const cameUnweighed = ({ events }: LotStory): boolean =>
  events.some(({ kind }) => kind === 'received') && !events.some(({ weight }) => weight.mass || weight.volume);

/** Where a product was weighed first after it was made. */
const weighedIn = (story: LotStory | undefined): { readonly entry: Entry; readonly mass: string } | undefined => {
  const event = story?.events.find(({ weight }) => weight.ground === 'weighed' && weight.mass);
  return event && { entry: event.entry, mass: showMass(event.weight.mass!) };
};

/** A lot that came in without a weight, and any other amount of the first line that is still to come. */
const ofHead = ({ lots }: Account, entry: Entry, { book }: Workspace): Unfinished[] => {
  const { name, verb, amount } = entry;
  if (verb !== 'receive') {
    if (amount?.absent !== 'unknown' || !name) return [];
    return [{ place: amount.place, entry, says: `Weigh ${name.name}: ${verb} waits for it.`, closes: undefined }];
  }
  const story = name && lots.get(name.name);
  if (!name || !story || !cameUnweighed(story) || isUnread(amount)) return [];
  const waiting = story.events.flatMap(({ kind, entry: by }) => {
    const step = kind === 'used' || kind === 'part-used' ? book.step(by) : undefined;
    return step?.verdict === 'open' ? [stepWords(step.entry)] : [];
  });
  const says = `${todo(name.name, amount, story, undefined)} to know how much came in${
    waiting.length > 0 ? `; ${listWords(waiting)} ${waiting.length > 1 ? 'wait' : 'waits'} for it` : ''
  }.`;
  return [{ place: amount?.place ?? name.place, entry, says, closes: waiting[0] }];
};

/** A vessel weighed before the heat and not after it. */
const ofGear = (entry: Entry): Unfinished[] =>
  entry.gear.flatMap(({ item, said }) => {
    if (!said.before?.figure || weighedAfter(said)) return [];
    const says = `Weigh ${item.name} after the heat to know what it took up.`;
    return [{ place: said.after?.place ?? item.place, entry, says, closes: stepWords(entry) }];
  });

const weighedAfter = ({ after }: Said): boolean => after !== undefined && after.absent !== 'unknown';

const ofReadings = (entry: Entry): Unfinished[] =>
  entry.readings.flatMap(({ reading }) =>
    reading.metals.flatMap(({ symbol, amount }) =>
      amount.absent === 'unknown' ? [written(symbol.name, amount, entry)] : [],
    ),
  );

const ofDetails = (entry: Entry): Unfinished[] =>
  entry.others.flatMap(({ word, amounts, reading }) => [
    ...amounts.flatMap((amount) => (amount.absent === 'unknown' ? [written(`\`${word}\``, amount, entry)] : [])),
    ...(reading?.metals ?? []).flatMap(({ symbol, amount }) =>
      amount.absent === 'unknown' ? [written(`${symbol.name} of \`${word}\``, amount, entry)] : [],
    ),
  ]);

/** `from ?`, `crucible ?`: a name that was not known when it was written. */
const ofNames = (entry: Entry): Unfinished[] => {
  const section = entry.anchor as Section;
  if (!section.text.includes('?')) return [];
  return section.lines
    .flatMap(({ pieces }) => pieces)
    .flatMap((piece) => {
      const open = piece.values
        .filter(({ shape }) => shape === 'amount')
        .filter((value) => !piece.filled.includes(value));
      return open.flatMap((value): Unfinished[] => {
        const what = (value.lead ?? piece.word)?.text.toLowerCase();
        const isNamed = value.shape === 'amount' && value.form === 'unknown' && what !== undefined;
        const place = placeIn(section, value);
        const says = `Write \`${what}\` of ${stepWords(entry)}.`;
        return isNamed && !isReported(section, value) ? [{ place, entry, says, closes: undefined }] : [];
      });
    });
};

const isReported = ({ problems }: Section, { start, end }: Span): boolean =>
  problems.some((problem) => problem.start < end && start < problem.end);

/** A settlement of which the money has not come; told once, at its first part. */
const ofMoney = (workspace: Workspace, entry: Entry): Unfinished[] => {
  if (entry.prefix !== undefined) return [];
  const bill = billOf(workspace, entry);
  if (bill?.paidOn === undefined && bill?.total.amount.greaterThan(0)) {
    const says =
      bill.payer === 'shop'
        ? `Write \`paid DATE\` of ${stepWords(entry)} once the ${showMoney(bill.total)} are paid to ${bill.toll.customer}.`
        : `Write \`paid DATE\` of ${stepWords(entry)} once the ${showMoney(bill.total)} of ${bill.toll.customer} have come.`;
    return [{ place: entry.name?.place ?? entry.head, entry, says, closes: bill.name }];
  }
  const settlement = settlementOf(workspace, entry);
  if (!settlement || !salesOf(workspace).settles.includes(settlement.sale)) return [];
  const due = metalDueBack(settlement.back);
  const place = entry.name?.place ?? entry.head;
  const back: Unfinished[] =
    due.length > 0
      ? [
          {
            place,
            entry,
            says: `Write \`returned LOT\` of ${stepWords(entry)} once ${listWords(due)} is weighed in.`,
            closes: settlement.name,
          },
        ]
      : [];
  if (settlement.paidOn !== undefined || (settlement.words.returns.size > 0 && !settlement.words.total)) return back;
  const { name, party, checked } = settlement;
  const says = `Write \`paid DATE\` of ${stepWords(entry)} once the ${showMoney(checked.stated)} of ${party ?? 'the buyer'} have come.`;
  return [...back, { place, entry, says, closes: name }];
};

const written = (what: string, { place }: Amount, entry: Entry): Unfinished => ({
  place,
  entry,
  says: `Write ${what} of ${stepWords(entry)}.`,
  closes: undefined,
});
