/**
 * Gradient-boosted decision trees (Friedman, Annals of Statistics 2001) with logistic loss: a sum of small trees
 * gives the log odds. Fitted by `tests/bench/fit`, kept as text.
 */
export interface TreeData {
  /** Names of the features, in order, to be read by people and checked when loaded. */
  readonly names: readonly string[];
  /** Log odds before any tree. */
  readonly base: number;
  /**
   * Nodes in pre-order, three numbers each, parted by blanks. An inner node is `feature threshold right`: where
   * the feature is below the threshold the next node follows, else node number `right`. A leaf is `-1 value 0`;
   * `-2 0 0` begins the next tree.
   */
  readonly nodes: string;
}

/** @returns the probability, 0…1, for a feature vector in the order of `expected` @throws TypeError if the names differ */
export function createTrees(
  data: TreeData,
  expected: readonly string[],
): (features: ArrayLike<number>) => number {
  if (data.names.join() !== expected.join())
    throw new TypeError(`the fitted decision was made for other features: ${data.names.join(', ')}`);
  const nodes = Float64Array.from(data.nodes.split(' '), Number);
  const roots: number[] = [];
  for (let i = 0; i < nodes.length; i += 3) if (nodes[i] === -2) roots.push(i / 3 + 1);
  return (features) => {
    let sum = data.base;
    for (const root of roots) {
      let at = 3 * root;
      while (nodes[at]! >= 0) at = features[nodes[at]!]! < nodes[at + 1]! ? at + 3 : 3 * nodes[at + 2]!;
      sum += nodes[at + 1]!;
    }
    return 1 / (1 + Math.exp(-sum));
  };
}
