/**
 * Elimination order and fill of a graph of nodes with six freedoms each.
 *
 * Method: least degree with the elimination graph kept as sets (Tinney & Walker 1967, scheme 2; George & Liu 1981,
 * Computer Solution of Large Sparse Positive Definite Systems, ch. 5). Frames are nearly trees, for which this order has
 * almost no fill: 62 blocks under the diagonal for the made-up frame of 40 nodes in verification/, where the best envelope
 * by reverse Cuthill–McKee has 97 and twice the work. Nodes marked late come last, so that what is before them is
 * eliminated once for all supports; an envelope would lose its shape by that.
 * Not here: supernodes, quotient graphs (a frame has tens of nodes, a subdivided one hundreds).
 */
export interface BlockPattern {
  readonly nodes: number;
  /** Node at each place of the order, and place of each node. */
  readonly order: Int32Array;
  readonly place: Int32Array;
  /** First place of the late nodes. */
  readonly firstLate: number;
  /** Panel of place p: 36 numbers of its diagonal block, then 36 for each later place in rows[rowStart[p]…]; row-major. */
  readonly start: Int32Array;
  readonly rowStart: Int32Array;
  readonly rows: Int32Array;
  /** Where eliminating p changes block (rows a, rows b), b ≤ a, in the order b, then a. */
  readonly targetStart: Int32Array;
  readonly targets: Int32Array;
  /** Length of the panels' storage. */
  readonly size: number;
}

export function blockPattern(
  nodes: number,
  edges: readonly (readonly [number, number])[],
  late: Uint8Array = new Uint8Array(nodes),
): BlockPattern {
  const near: Set<number>[] = Array.from({ length: nodes }, () => new Set());
  for (const [a, b] of edges)
    if (a !== b) {
      near[a]!.add(b);
      near[b]!.add(a);
    }
  const order = new Int32Array(nodes);
  const place = new Int32Array(nodes).fill(-1);
  const structure: number[][] = [];
  let firstLate = nodes;
  for (const pass of [0, 1]) {
    const left: number[] = [];
    for (let i = 0; i < nodes; i++) if ((late[i] ? 1 : 0) === pass) left.push(i);
    if (pass === 1) firstLate = structure.length;
    while (left.length > 0) {
      let best = 0;
      for (let i = 1; i < left.length; i++) if (near[left[i]!]!.size < near[left[best]!]!.size) best = i;
      const p = left[best]!;
      left.splice(best, 1); // keeps the order, so that ties go to the lower node
      place[p] = structure.length;
      order[structure.length] = p;
      const around = [...near[p]!];
      structure.push(around);
      for (const a of around) {
        near[a]!.delete(p);
        for (const b of around) if (a !== b) near[a]!.add(b);
      }
    }
  }
  const start = new Int32Array(nodes + 1);
  const rowStart = new Int32Array(nodes + 1);
  const targetStart = new Int32Array(nodes + 1);
  structure.forEach((around, p) => {
    start[p + 1] = start[p]! + 36 * (1 + around.length);
    rowStart[p + 1] = rowStart[p]! + around.length;
    targetStart[p + 1] = targetStart[p]! + (around.length * (around.length + 1)) / 2;
  });
  const rows = new Int32Array(rowStart[nodes]!);
  structure.forEach((around, p) => {
    rows.set(
      around.map((node) => place[node]!).sort((a, b) => a - b),
      rowStart[p]!,
    );
  });
  const half = { order, place, firstLate, start, rowStart, rows, nodes };
  const targets = new Int32Array(targetStart[nodes]!);
  let next = 0;
  for (let p = 0; p < nodes; p++)
    for (let b = rowStart[p]!; b < rowStart[p + 1]!; b++)
      for (let a = b; a < rowStart[p + 1]!; a++) targets[next++] = blockAt(half, rows[a]!, rows[b]!);
  return { ...half, targetStart, targets, size: start[nodes]! };
}

/**
 * Offset of the block of row place r and column place p ≤ r in the panels' storage.
 * @throws RangeError where the pattern has no such block.
 */
export function blockAt(pattern: Pick<BlockPattern, 'start' | 'rowStart' | 'rows'>, r: number, p: number): number {
  if (r === p) return pattern.start[p]!;
  for (let i = pattern.rowStart[p]!; i < pattern.rowStart[p + 1]!; i++)
    if (pattern.rows[i] === r) return pattern.start[p]! + 36 * (1 + i - pattern.rowStart[p]!);
  throw new RangeError(`no block ${r}, ${p}`);
}
