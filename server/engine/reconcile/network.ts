/** Streams between steps: the form in which a history of weights is reconciled. */
import type { Balance, Reading, System } from './system';

/** Without `from` it comes in from outside, without `to` it leaves. */
export interface Stream extends Reading {
  readonly from?: number;
  readonly to?: number;
}

export interface Network {
  readonly streams: readonly Stream[];
  /** How many nodes there are. Node n closes when what flows to it equals what flows from it. */
  readonly nodes: number;
  /** How many sources of shared errors there are, such as scales. */
  readonly sources?: number | undefined;
}

/** Variable i is stream i, balance n is node n: in − out = 0. Throws a RangeError on a stream between nodes that are not there. */
export const networkSystem = ({ streams, nodes, sources }: Network): System => ({
  readings: streams,
  sources,
  balances: nodeBalances(streams, nodes),
});

export const nodeBalances = (streams: readonly { from?: number; to?: number }[], nodes: number): Balance[] => {
  const variables: number[][] = Array.from({ length: nodes }, () => []);
  const coefficients: number[][] = Array.from({ length: nodes }, () => []);
  for (const [index, { from, to }] of streams.entries()) {
    for (const [node, sign] of [[to, 1] as const, [from, -1] as const]) {
      if (node === undefined) continue;
      if (!(node >= 0 && node < nodes))
        throw new RangeError(`stream ${index} touches node ${node}, which is not there`);
      variables[node]!.push(index);
      coefficients[node]!.push(sign);
    }
  }
  return variables.map((list, node) => ({ variables: list, coefficients: coefficients[node]!, constant: 0 }));
};
