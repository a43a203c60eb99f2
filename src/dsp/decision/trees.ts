/**
 * Gradient-boosted decision trees (Friedman, Annals of Statistics 2001) with logistic loss: a sum of small trees
 * gives the log odds. Fitted by `src/training`, kept as text.
 */
export interface TreeData {
  /** Names of the features that the nodes number. */
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

/**
 * @param given names of the features that will be given, in order
 * @returns the probability, 0…1, for such a feature vector
 * @throws TypeError if the trees look at a feature that is not given
 */
export function createTrees(
  data: TreeData,
  given: readonly string[],
): (features: ArrayLike<number>) => number {
  const nodes = Float64Array.from(data.nodes.split(' '), Number);
  const roots: number[] = [];
  for (let i = 0; i < nodes.length; i += 3) {
    if (nodes[i] === -2) roots.push(i / 3 + 1);
    if (nodes[i]! < 0) continue;
    const name = data.names[nodes[i]!]!;
    nodes[i] = given.indexOf(name);
    if (nodes[i] === -1) throw new TypeError(`the fitted decision looks at "${name}", which is not measured`);
  }
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
