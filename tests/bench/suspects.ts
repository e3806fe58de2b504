/** How often one wrong reading among many is found, and how often an honest history is suspected. Prints the rates as measured. */
import { metalAlarms, metalFound } from '../support/metal-alarms';
import { falseAlarms, foundRates } from '../support/suspects';

const COUNT = Math.trunc(+(process.argv[2] ?? 1000));
const TRIALS = Math.trunc(COUNT / 4);

const share = (part: number, of: number): string => `${((100 * part) / of).toFixed(1)} %`;

for (const steps of [8, 16]) {
  const { balances, beyond2, beyond3, told, orSuspect } = metalAlarms(COUNT, 5_000_000, steps);
  console.log(
    `${COUNT} honest histories of ${steps} steps, ${(balances / COUNT).toFixed(1)} balances of metal in each: beyond 2 u ${share(beyond2, balances)}, beyond 3 u ${share(beyond3, balances)}; a finding of a balance in ${share(told, COUNT)}, of it or a suspect reading in ${share(orSuspect, COUNT)}`,
  );
}
for (const times of [3, 5, 8, 10, 20]) {
  const { trials, byBalance, byAny } = metalFound(TRIALS, 6_000_000 + times * 10_000, times, 8);
  console.log(
    `  one assay off by ${times} u, ${trials} histories: found by a balance ${share(byBalance, trials)}, by anything ${share(byAny, trials)}`,
  );
}
for (const steps of [8, 16]) {
  const clean = falseAlarms(COUNT, 20260504 + steps * 100_000, steps);
  console.log(
    `${COUNT} honest histories of ${steps} steps: a suspect in ${share(clean.suspects, COUNT)}, the whole fails in ${share(clean.whole, COUNT)}, not settled ${clean.unsettled}`,
  );
}
for (const only of [false, true]) {
  console.log(
    only ? 'Readings of which such an error shows nine times of ten:' : 'All readings that something checks:',
  );
  for (const [low, high] of [
    [5, 5],
    [6, 6],
    [8, 8],
    [10, 10],
    [20, 20],
    [200, 200],
    [5, 50],
    [10, 100],
  ] as const) {
    const { trials, found, first, alone } = foundRates(TRIALS, 7_000_000 + low * 10_000, [low, high], only);
    const size = low === high ? `${low}` : `${low} to ${high}`;
    console.log(
      `  off by ${size} u, ${trials} histories: found ${share(found, trials)}, first ${share(first, trials)}, alone ${share(alone, trials)}`,
    );
  }
}
