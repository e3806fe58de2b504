/** Fineness with the correction of check assays: pure metal run beside the samples loses and keeps as they do. */
import { type Assumption, answer, assume, BERINGER, noAnswer, type Result } from './result';

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Least number of checks that the correction rests on. */
const LEAST_CHECKS = 1;

/**
 * Fineness of silver bullion, parts per thousand, by cupellation with checks of pure silver. The mean bead of the samples
 * is put up by what the checks lost. Masses in any one unit. Only for bullion like the check.
 */
export function silverByCheck(
  sampleMass: number,
  beads: readonly number[],
  checkTaken: number,
  checkBeads: readonly number[],
): Result<number> {
  if (beads.length === 0 || checkBeads.length < LEAST_CHECKS)
    return noAnswer('there is no bead, or no check beside it');
  if (!(sampleMass > 0)) return noAnswer('the sample is not weighed');
  const lost = checkTaken - mean(checkBeads);
  return answer((1000 * (mean(beads) + lost)) / sampleMass, assumptions(checkBeads.length));
}

export interface GoldProof {
  readonly taken: number;
  /** Of the proof gold, 0 to 1. */
  readonly purity: number;
  readonly cornet: number;
}

/**
 * Fineness of gold, parts per thousand, by cornet with proofs: δ = mean(taken × purity − cornet), fineness =
 * 1000 (cornet + δ)/sample. Masses in any one unit.
 */
export function goldByProof(sampleMass: number, cornet: number, proofs: readonly GoldProof[]): Result<number> {
  if (proofs.length < LEAST_CHECKS) return noAnswer('no proof was run beside the sample');
  if (!(sampleMass > 0)) return noAnswer('the sample is not weighed');
  const correction = mean(proofs.map(({ taken, purity, cornet: found }) => taken * purity - found));
  return answer((1000 * (cornet + correction)) / sampleMass, assumptions(proofs.length));
}

function assumptions(checks: number): Assumption[] {
  const assumed = [
    assume('the checks lost and kept what the samples did: same metals, lead, place and heat', BERINGER),
  ];
  if (checks < 2) assumed.push(assume('one check only: two or more are wanted', 'ISO 11426-type procedure'));
  return assumed;
}
