import fc from 'fast-check';
import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix';
import { expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { columnSpectrum, dampedScratch, dampedStep, rankOf } from './least-squares.ts';

/** Backward-stable methods on matrices of order 1 and size 6: some hundred roundings. */
const STABLE = { absolute: 1e-13, relative: 1e-12 };

const matrix = fc.tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 6 })).chain(([m, n]) =>
  fc.record({
    m: fc.constant(m),
    n: fc.constant(n),
    a: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: m * n, maxLength: m * n }),
    r: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: m, maxLength: m }),
  }),
);
const dense = (a: readonly number[] | Float64Array, m: number, n: number) =>
  Matrix.from1DArray(n, m, Array.from(a)).transpose();

test('singular values agree with a general-purpose decomposition', () => {
  fc.assert(
    fc.property(matrix, ({ m, n, a }) => {
      const ours = columnSpectrum(Float64Array.from(a), m, n).values;
      const theirs = new SingularValueDecomposition(dense(a, m, n), { autoTranspose: true }).diagonal;
      for (let k = 0; k < n; k++) expectWithin(ours[k]!, theirs[k] ?? 0, STABLE, { m, n, a });
    }),
  );
});

test('right vectors are orthonormal and carry their singular values', () => {
  fc.assert(
    fc.property(matrix, ({ m, n, a }) => {
      const { values, vectors } = columnSpectrum(Float64Array.from(a), m, n);
      const v = dense(vectors, n, n);
      const gram = v.transpose().mmul(v);
      const image = dense(a, m, n).mmul(v);
      for (let i = 0; i < n; i++) {
        expectWithin(image.getColumnVector(i).norm(), values[i]!, STABLE, { a, i });
        for (let j = 0; j < n; j++) expectWithin(gram.get(i, j), i === j ? 1 : 0, STABLE, { a, i, j });
      }
    }),
  );
});

test('a tiny singular value keeps its digits: 1e-12 beside 1', () => {
  // Columns (1, 0, 0) and (1, 1e-12, 0): the singular values are √2 and 1e-12/√2 up to 1e-24.
  const { values } = columnSpectrum(Float64Array.of(1, 0, 0, 1, 1e-12, 0), 3, 2);
  expectWithin(values[0]!, Math.SQRT2, STABLE);
  expectWithin(values[1]!, 1e-12 / Math.SQRT2, { relative: 1e-10 });
});

test('rank counts what stands above a share of the largest', () => {
  expect(rankOf(Float64Array.of(2, 1e-3, 1e-9), 1e-6)).toBe(2);
  expect(rankOf(Float64Array.of(0, 0), 1e-6)).toBe(0);
});

test('the damped step minimises |A x + r|² + λ|x|², as the normal equations say', () => {
  fc.assert(
    fc.property(matrix, fc.double({ min: 0.01, max: 1, noNaN: true }), ({ m, n, a, r }, lambda) => {
      const x = new Float64Array(n);
      dampedStep(Float64Array.from(a), m, n, Float64Array.from(r), lambda, x, new Float64Array(dampedScratch(m, n)));
      const A = dense(a, m, n);
      const normal = A.transpose().mmul(A).add(Matrix.eye(n).mul(lambda));
      const expected = solve(normal, A.transpose().mmul(Matrix.columnVector(r)).mul(-1));
      // The normal equations lose digits by the condition number, at most 1 + 72/λ.
      x.forEach((value, i) => {
        expectWithin(value, expected.get(i, 0), { absolute: 1e-11 }, { a, r, lambda });
      });
    }),
  );
});
