import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { sectionSpread } from '../../mass/section.ts';
import { torsionConstant, torsionModulus } from './torsion.ts';

const polarOf = (shape: 'round' | 'oval' | 'rectangular', h: number, w: number, t: number): number => {
  const s = sectionSpread(shape, h, w, t);
  return s.alongHeight + s.alongWidth;
};
const j = (shape: 'round' | 'oval' | 'rectangular', h: number, w: number, t: number): number =>
  torsionConstant(shape, h, w, t, polarOf(shape, h, w, t));

/**
 * J of the region between two ellipses by Ritz's method on Prandtl's stress function: polynomials across the wall,
 * cos 2kθ around it, constant on the inner edge. A lower bound that converges in few terms; shares nothing with the code.
 */
function ritzOval(a: number, b: number, t: number, across: number, around: number): { j: number; peak: number } {
  const basis: { m: number; k: number }[] = [];
  for (let m = 1; m <= across; m++) for (let k = 0; k <= around; k++) basis.push({ m, k });
  const size = basis.length;
  const K = Matrix.zeros(size, size);
  const F = Matrix.zeros(size, 1);
  const ns = 40;
  const nt = 96;
  for (let i = 0; i <= ns; i++) {
    const s = i / ns;
    const weightS = ((i === 0 || i === ns ? 1 : i % 2 === 1 ? 4 : 2) / 3) * (1 / ns);
    for (let q = 0; q < nt; q++) {
      const th = (2 * Math.PI * q) / nt;
      const [c, sn] = [Math.cos(th), Math.sin(th)];
      const [xs, xt, ys, yt] = [-t * c, -(a - t * s) * sn, -t * sn, (b - t * s) * c];
      const det = xs * yt - xt * ys;
      const dA = Math.abs(det) * weightS * ((2 * Math.PI) / nt);
      const rows = basis.map(({ m, k }) => {
        const [f, fs] = k === 0 ? [s ** m, m * s ** (m - 1)] : [s ** m * (1 - s), m * s ** (m - 1) - (m + 1) * s ** m];
        const [phi, phis, phit] = [
          f * Math.cos(2 * k * th),
          fs * Math.cos(2 * k * th),
          -2 * k * f * Math.sin(2 * k * th),
        ];
        return [phi, (phis * yt - phit * ys) / det, (phit * xs - phis * xt) / det] as const;
      });
      for (let r = 0; r < size; r++) {
        F.set(r, 0, F.get(r, 0) + rows[r]![0] * dA);
        for (let p = 0; p < size; p++)
          K.set(r, p, K.get(r, p) + (rows[r]![1] * rows[p]![1] + rows[r]![2] * rows[p]![2]) * dA);
      }
    }
  }
  const hole = Math.PI * (a - t) * (b - t);
  basis.forEach(({ k }, r) => {
    if (k === 0) F.set(r, 0, F.get(r, 0) + hole);
  });
  const c = solve(K, F);
  let sum = 0;
  for (let r = 0; r < size; r++) sum += F.get(r, 0) * c.get(r, 0);
  // Slope across the wall at the outer edge: shear stress per Gθ'
  let peak = 0;
  for (let q = 0; q <= 90; q++) {
    const th = (Math.PI * q) / 180;
    const [co, si] = [Math.cos(th), Math.sin(th)];
    const thick = (t * (b * co * co + a * si * si)) / Math.sqrt((a * si) ** 2 + (b * co) ** 2);
    let slope = 0;
    basis.forEach(({ m, k }, r) => {
      if (m === 1) slope += 2 * c.get(r, 0) * Math.cos(2 * k * th);
    });
    peak = Math.max(peak, slope / thick);
  }
  return { j: 4 * sum, peak };
}

/** J of a sharp-cornered rectangular tube by finite differences; the hole's nodes share one value. A lower bound. */
function gridRectangle(h: number, w: number, t: number, cell: number): number {
  const [nx, ny, nt] = [Math.round(h / cell), Math.round(w / cell), Math.round(t / cell)];
  const phi = new Float64Array((nx + 1) * (ny + 1));
  const at = (i: number, k: number): number => i * (ny + 1) + k;
  const inHole = (i: number, k: number): boolean => i >= nt && i <= nx - nt && k >= nt && k <= ny - nt;
  let hole = 0;
  for (let sweep = 0; sweep < 400; sweep++) {
    let pull = 0;
    let ties = 0;
    let holeNodes = 0;
    for (let i = 1; i < nx; i++)
      for (let k = 1; k < ny; k++) {
        const near = [at(i - 1, k), at(i + 1, k), at(i, k - 1), at(i, k + 1)] as const;
        if (inHole(i, k)) {
          holeNodes++;
          const outside = [inHole(i - 1, k), inHole(i + 1, k), inHole(i, k - 1), inHole(i, k + 1)];
          near.forEach((n, d) => {
            if (outside[d]) return;
            pull += phi[n]!;
            ties++;
          });
        } else {
          const mean = (phi[near[0]]! + phi[near[1]]! + phi[near[2]]! + phi[near[3]]! + 2 * cell * cell) / 4;
          phi[at(i, k)] = phi[at(i, k)]! + 1.9 * (mean - phi[at(i, k)]!);
        }
      }
    if (ties === 0) continue;
    hole = (pull + 2 * cell * cell * holeNodes) / ties;
    for (let i = nt; i <= nx - nt; i++) for (let k = nt; k <= ny - nt; k++) phi[at(i, k)] = hole;
  }
  return 2 * cell * cell * phi.reduce((a, b) => a + b, 0);
}

describe('torsion of tubes', () => {
  it('of a round tube is twice the second moment, and the oval formula meets it when height = width', () => {
    for (const [d, t] of [
      [40, 2],
      [28.6, 0.6],
      [30, 8],
      [20, 9.9],
    ] as const) {
      expectWithin(j('oval', d, d, t), j('round', d, d, t), { relative: 1e-12 }, { d, t });
      const oval = torsionModulus('oval', d, d, t, j('oval', d, d, t));
      expectWithin(oval, torsionModulus('round', d, d, t, j('round', d, d, t)), { relative: 1e-12 }, { d, t });
    }
  });

  it('of oval tubes agrees with a converged solution of the torsion problem', () => {
    for (const [h, w, t] of [
      [60, 40, 2],
      [80, 40, 3],
      [34, 22, 1.2],
      [50, 40, 6],
    ] as const) {
      const coarse = ritzOval(h / 2, w / 2, t, 3, 4);
      const fine = ritzOval(h / 2, w / 2, t, 4, 5);
      expectWithin(coarse.j, fine.j, { relative: 1e-4 }, { h, w, t });
      expectWithin(j('oval', h, w, t), fine.j, { relative: 5e-3 }, { h, w, t });
      const modulus = torsionModulus('oval', h, w, t, j('oval', h, w, t));
      expectWithin(modulus, fine.j / fine.peak, { relative: 5e-2 }, { h, w, t });
    }
  });

  it('of rectangular tubes lies below a grid solution with sharp corners, by 5 % at most', () => {
    for (const [h, w, t] of [
      [60, 40, 2],
      [40, 40, 4],
      [60, 30, 6],
    ] as const) {
      const fine = gridRectangle(h, w, t, t / 8);
      const coarse = gridRectangle(h, w, t, t / 4);
      // Re-entrant corners of 270° limit the order to 4/3
      const limit = fine + (fine - coarse) / (2 ** (4 / 3) - 1);
      expect(j('rectangular', h, w, t)).toBeLessThan(limit);
      expectWithin(j('rectangular', h, w, t), limit, { relative: 5e-2 }, { h, w, t });
    }
  });

  it('of solid bars is exact: circle, ellipse, square 0.14058 a⁴, flat strip a third', () => {
    expectWithin(j('round', 20, 20, 10), (Math.PI * 20 ** 4) / 32, { relative: 1e-12 });
    expectWithin(j('oval', 20, 10, 5), (Math.PI * 10 ** 3 * 5 ** 3) / 125, { relative: 1e-12 });
    expectWithin(j('rectangular', 10, 10, 5), 0.1405770144 * 1e4, { relative: 1e-8 });
    expectWithin(j('rectangular', 1e5, 1, 0.5), 1e5 / 3, { relative: 1e-5 });
    expectWithin(gridRectangle(10, 6, 6, 0.1), j('rectangular', 10, 6, 3), { relative: 1e-3 });
  });

  it('of bars gives the tabled moduli: square 0.208 a³, 2 : 1 rectangle 0.246 × 2 b³, ellipse π a b²/2', () => {
    const half = 0.5e-3; // the tables print three digits
    expectWithin(torsionModulus('rectangular', 1, 1, 0.5, j('rectangular', 1, 1, 0.5)), 0.208, { absolute: half });
    expectWithin(torsionModulus('rectangular', 2, 1, 0.5, j('rectangular', 2, 1, 0.5)), 0.492, { absolute: 2 * half });
    expectWithin(torsionModulus('oval', 4, 2, 1, j('oval', 4, 2, 1)), Math.PI, { relative: 1e-12 });
  });

  it('does not jump by more than a tube formula’s own error where the bore closes', () => {
    for (const [h, w] of [
      [10, 10],
      [20, 10],
      [30, 10],
    ] as const)
      for (const shape of ['oval', 'rectangular'] as const) {
        expectWithin(j(shape, h, w, 5 - 1e-6), j(shape, h, w, 5), { relative: 5e-2 }, { shape, h, w });
      }
  });

  it('is not a number for a wall that cannot be', () => {
    for (const t of [0, -1, 21, Number.NaN]) expect(j('oval', 60, 40, t)).toBeNaN();
  });
});
