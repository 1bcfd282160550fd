import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { type BlockFactor, backward, blockFactor, factorise, forward } from './block-ldl.ts';
import { blockAt, blockPattern } from './ordering.ts';

/** A connected graph of n nodes: a chain and some chords. */
const graph = fc.integer({ min: 2, max: 14 }).chain((n) =>
  fc.record({
    n: fc.constant(n),
    chords: fc.array(fc.tuple(fc.nat(n - 1), fc.nat(n - 1)), { maxLength: 8 }),
    late: fc.uint8Array({ minLength: n, maxLength: n, max: 1 }),
    held: fc.uint8Array({ minLength: 6 * n, maxLength: 6 * n, max: 1 }),
  }),
);
const chain = (n: number): [number, number][] => Array.from({ length: n - 1 }, (_, i) => [i, i + 1]);

/** Dense symmetric matrix of the graph with a heavy diagonal, by node; entries from a fixed formula. */
function filled(n: number, edges: readonly (readonly [number, number])[], sign: number): number[][] {
  const A = Array.from({ length: 6 * n }, () => new Array<number>(6 * n).fill(0));
  const put = (a: number, b: number): void => {
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++) {
        const value = Math.sin(1 + 7 * a + 3 * b + i * 5 + j * 11);
        A[6 * a + i]![6 * b + j] = value;
        A[6 * b + j]![6 * a + i] = value;
      }
  };
  for (const [a, b] of edges) if (a !== b) put(Math.min(a, b), Math.max(a, b));
  for (let q = 0; q < 6 * n; q++) A[q]![q] = sign * (60 + q);
  return A;
}
function loaded(A: readonly number[][], factor: BlockFactor): void {
  const { pattern, values } = factor;
  values.fill(0);
  for (let p = 0; p < pattern.nodes; p++) {
    const below = [p, ...pattern.rows.subarray(pattern.rowStart[p]!, pattern.rowStart[p + 1]!)];
    for (const r of below)
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 6; j++)
          values[blockAt(pattern, r, p) + 6 * i + j] = A[6 * pattern.order[r]! + i]![6 * pattern.order[p]! + j]!;
  }
}

describe('LDLᵀ by node blocks', () => {
  test('solves any graph in any split into early and late nodes, with any freedoms held', () => {
    fc.assert(
      fc.property(graph, ({ n, chords, late, held }) => {
        const edges = [...chain(n), ...chords];
        const A = filled(n, edges, 1);
        const factor = blockFactor(blockPattern(n, edges, late));
        const { order, firstLate } = factor.pattern;
        expect([...order].sort((a, b) => a - b)).toEqual([...Array(n).keys()]);
        for (let p = 0; p < n; p++) expect(late[order[p]!]).toBe(p < firstLate ? 0 : 1);
        // Only late freedoms can be held: the early ones are eliminated before supports are known.
        const byPlace = new Uint8Array(6 * n);
        for (let p = firstLate; p < n; p++) for (let c = 0; c < 6; c++) byPlace[6 * p + c] = held[6 * order[p]! + c]!;
        loaded(A, factor);
        const limit = new Float64Array(6 * n).fill(1e-9);
        const negative =
          factorise(factor, 0, firstLate, byPlace, limit, () => false) +
          factorise(factor, firstLate, n, byPlace, limit, () => false);
        expect(negative).toBe(0);
        const x = Float64Array.from({ length: 6 * n }, (_, i) => Math.cos(3 * i));
        const f = x.slice();
        forward(factor, x);
        backward(factor, x);
        for (let p = 0; p < n; p++)
          for (let c = 0; c < 6; c++) {
            const q = 6 * p + c;
            if (byPlace[q]) {
              expect(Math.abs(x[q]!)).toBe(0);
              continue;
            }
            let sum = 0;
            for (let r = 0; r < n; r++)
              for (let d = 0; d < 6; d++) sum += A[6 * order[p]! + c]![6 * order[r]! + d]! * x[6 * r + d]!;
            expectWithin(sum, f[q]!, { absolute: 1e-12 }, { n, q });
          }
      }),
      { numRuns: 60 },
    );
  });

  test('counts negative eigenvalues: those of a matrix and of its negative make all', () => {
    for (const shift of [-40, -75, -100]) {
      const n = 5;
      const edges = [...chain(n), [0, 4] as [number, number]];
      const A = filled(n, edges, 1);
      for (let q = 0; q < 6 * n; q++) A[q]![q]! += shift;
      const count = (sign: number): number => {
        const factor = blockFactor(blockPattern(n, edges));
        loaded(
          A.map((row) => row.map((v) => sign * v)),
          factor,
        );
        return factorise(factor, 0, n, new Uint8Array(6 * n), undefined, undefined);
      };
      expect(count(1) + count(-1)).toBe(6 * n);
      expect(count(1)).toBe({ 40: 0, 75: count(1), 100: 6 * n }[-shift]!);
    }
  });

  test('reports a pivot that is small, and one that is no number', () => {
    for (const bad of [1e-12, -1, NaN]) {
      const edges = chain(3);
      const A = filled(3, edges, 1);
      A[14]!.fill(0);
      for (const row of A) row[14] = 0;
      A[14]![14] = bad;
      const factor = blockFactor(blockPattern(3, edges));
      loaded(A, factor);
      const seen: number[] = [];
      const stop = factorise(factor, 0, 3, new Uint8Array(18), new Float64Array(18).fill(1e-9), (p, c) => {
        seen.push(6 * factor.pattern.order[p]! + c);
        return false;
      });
      expect([stop, seen]).toEqual([-1, [14]]);
    }
  });
});

test('a tree has no fill, and its leaves go first', () => {
  const n = 40;
  const edges = Array.from({ length: n - 1 }, (_, i): [number, number] => [(i * 7) % (i + 1), i + 1]);
  const pattern = blockPattern(n, edges);
  expect(pattern.rows.length).toBe(n - 1);
  expect(() => blockAt(pattern, 0, n - 1)).toThrow(/no block/);
});
