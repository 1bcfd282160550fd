/**
 * The spanning tree of bodies and joints, and which bodies can move against which during the fold.
 *
 * Method: joints that the fold drives come first (their values are given, so they should hang a body on its parent),
 * then the other joints in the order of the file; a joint that would close a loop is a cut, and so is every pin, which is
 * absent once released (Kruskal's choice of edges). The tree is then hung on body 0, breadth first.
 */
export interface Edge {
  readonly a: number;
  readonly b: number;
  readonly pin: boolean;
  readonly driven: boolean;
}
export interface Tree {
  readonly parent: Int32Array;
  readonly parentJoint: Int32Array;
  readonly order: Int32Array;
  readonly cuts: Int32Array;
  /** Bodies that no joint but pins connects to body 0. */
  readonly unconnected: readonly number[];
}

export function spanningTree(bodyCount: number, edges: readonly Edge[]): Tree {
  const sets = disjointSets(bodyCount);
  const inTree = new Set<number>();
  for (const driven of [true, false])
    edges.forEach((edge, j) => {
      if (!edge.pin && edge.driven === driven && sets.join(edge.a, edge.b)) inTree.add(j);
    });
  const parent = new Int32Array(bodyCount).fill(-1);
  const parentJoint = new Int32Array(bodyCount).fill(-1);
  const order = bodyCount > 0 ? [0] : [];
  const seen = new Set(order);
  for (let i = 0; i < order.length; i++)
    for (const j of inTree) {
      const { a, b } = edges[j]!;
      const here = order[i]!;
      const next = a === here ? b : b === here ? a : -1;
      if (next < 0 || seen.has(next)) continue;
      seen.add(next);
      order.push(next);
      parent[next] = here;
      parentJoint[next] = j;
    }
  const unconnected = Array.from({ length: bodyCount }, (_, b) => b).filter((b) => !seen.has(b));
  const cuts = edges.flatMap((_, j) => (inTree.has(j) ? [] : [j]));
  return { parent, parentJoint, order: Int32Array.from(order), cuts: Int32Array.from(cuts), unconnected };
}

/**
 * Group of each body: bodies of one group never move against one another in the fold. A joint may move when the fold
 * drives it or when it lies on a loop with one that is driven; counted generously, so that no pair is left out wrongly.
 */
export function stillGroups(bodyCount: number, edges: readonly Edge[]): Int32Array {
  const sets = disjointSets(bodyCount);
  edges.forEach((edge, j) => {
    if (!edge.driven && !sharesLoopWithDriven(bodyCount, edges, j)) sets.join(edge.a, edge.b);
  });
  return Int32Array.from({ length: bodyCount }, (_, b) => sets.find(b));
}

/** Joint j lies on a loop with a driven joint when some simple cycle holds both: found over the block (biconnected part) of j. */
function sharesLoopWithDriven(bodyCount: number, edges: readonly Edge[], j: number): boolean {
  return edges.some((edge, k) => edge.driven && k !== j && sameBlock(bodyCount, edges, j, k));
}
/** Two edges share a block when no single body separates them: removing any one body leaves both on one side. */
function sameBlock(bodyCount: number, edges: readonly Edge[], j: number, k: number): boolean {
  if (!onCycle(bodyCount, edges, j) || !onCycle(bodyCount, edges, k)) return false;
  for (let removed = 0; removed < bodyCount; removed++) {
    const sets = disjointSets(bodyCount);
    for (const e of edges) if (e.a !== removed && e.b !== removed) sets.join(e.a, e.b);
    const end = (e: Edge) => (e.a === removed ? e.b : e.a);
    if (sets.find(end(edges[j]!)) !== sets.find(end(edges[k]!))) return false;
  }
  return true;
}
function onCycle(bodyCount: number, edges: readonly Edge[], j: number): boolean {
  const sets = disjointSets(bodyCount);
  edges.forEach((e, k) => {
    if (k !== j) sets.join(e.a, e.b);
  });
  return sets.find(edges[j]!.a) === sets.find(edges[j]!.b);
}

function disjointSets(n: number) {
  const up = Int32Array.from({ length: n }, (_, i) => i);
  const find = (i: number): number => {
    let at = i;
    while (up[at] !== at) at = up[at]!;
    return at;
  };
  /** True when the two were apart. */
  const join = (a: number, b: number): boolean => {
    const [x, y] = [find(a), find(b)];
    up[Math.max(x, y)] = Math.min(x, y);
    return x !== y;
  };
  return { find, join };
}

/** Bodies beyond joint j when the tree is cut there: the part that does not hold body 0. */
export function beyond(tree: Tree, joint: number): Set<number> {
  const root = tree.parentJoint.indexOf(joint);
  const found = new Set<number>(root < 0 ? [] : [root]);
  for (const b of tree.order) if (found.has(tree.parent[b]!)) found.add(b);
  return found;
}
/** Joints on the tree path between two bodies. */
export function jointsBetween(tree: Tree, a: number, b: number): number[] {
  const up = (from: number): number[] => {
    const path: number[] = [];
    for (let at = from; at > 0 && tree.parent[at]! >= 0; at = tree.parent[at]!) path.push(tree.parentJoint[at]!);
    return path;
  };
  const [pa, pb] = [up(a), up(b)];
  return [...pa.filter((j) => !pb.includes(j)), ...pb.filter((j) => !pa.includes(j))];
}
