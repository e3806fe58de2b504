/** A charge that leaves the crucible too little room. */
import { crucibleFill } from '../engine/crucible';
import { rule } from './rule';

export const crucibleOverfull = rule({
  code: 'crucible-overfull',
  severity: 'warning',
  atOnce: false,
  ofPlans: true,
  title: 'a crucible too full',
  why: 'Carbonate, niter and water leave the charge as gas and lift it. Above two-thirds to three-quarters of the crucible a charge may boil over: metal is lost, and hot slag runs where hands and hoses are. A charge with much niter, or with niter beside what it burns, froths all at once: half is the most. Take a larger crucible, or melt in several charges.',
  wrong:
    '2026-05-04\nreceive A 200.0 g\n  material black-sand\nmelt M1, crucible C2\n  in A\n  add soda-ash 60 g\n  add borax-glass 60 g\n  out B 50.0 g button\n  out S 244 g slag',
  right:
    '2026-05-04\nreceive A 200.0 g\n  material black-sand\nmelt M1, crucible C4\n  in A\n  add soda-ash 60 g\n  add borax-glass 60 g\n  out B 50.0 g button\n  out S 244 g slag',
  workshop: 'crucibles:\n  C2: { volume: 150 mL }\n  C4: { volume: 600 mL }\n',
  source:
    'two-thirds to three-quarters, half with much niter: common practice, no source; bulk densities as in the table of materials',
  entry: function* (account, { workshop, book }) {
    const { step, entry } = account;
    if (!step || entry.prefix === 'more') return;
    const fill = crucibleFill(step, workshop, book.make);
    if (fill?.verdict !== 'over' || !fill.share) return;
    const gear = entry.gear.find(({ word }) => word === 'crucible');
    const percent = Math.round(fill.share.low * 100);
    const most = Math.round(fill.most.share * 100);
    const why = fill.most.froths ? 'with so much niter it froths over' : 'it may boil over';
    yield {
      place: gear?.item.place ?? entry.head,
      says: `The charge fills ${fill.crucible.name} to ${percent} % at least, cold; above ${most} % ${why}. Take a larger crucible, or charge it in parts.`,
    };
  },
});
