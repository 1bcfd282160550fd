import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { benchFrame } from '../../../../verification/frame/made-up-frame.ts';
import type { BeamMember, EndFlex, FrameStructure, LoadGroup, Piece } from '../structure.ts';
import { frameBuckling } from './buckling.ts';
import { frameSecondOrder } from './second-order.ts';
import { frameSolver } from './solver.ts';

const L = 336;
const E = 29000;
const I = 484;
const section = { area: 14.1, iy: I, iz: I, j: 2 * I, asy: Infinity, asz: Infinity };
const piece = (from: number, to: number, extra: Partial<Piece> = {}): Piece => ({
  from: [0, 0, from],
  to: [0, 0, to],
  y: [1, 0, 0],
  E,
  G: 11200,
  section,
  ...extra,
});
const column = (pieces: readonly Piece[], flex: readonly EndFlex[] = [], foot = 0): FrameStructure => {
  const member: BeamMember = { name: 'column', from: 0, to: 1, flex, pieces };
  return {
    nodes: [
      { name: 'foot', at: [0, 0, foot] },
      { name: 'top', at: [0, 0, L] },
    ],
    members: [member],
    joints: [],
  };
};
const ALL = [0, 1, 2, 3, 4, 5];
const push = (P: number, H: number): LoadGroup => ({
  supports: ALL.map((component) => ({ node: 0, component })),
  fixtures: [],
  loads: [[{ node: 1, force: [H, 0, -P], moment: [0, 0, 0] }]],
});
const top = (s: FrameStructure, g: LoadGroup): number => frameSecondOrder(s, g, 0).solution!.u[6]!;
/** Error of cubic elements no longer than π/16 by l√(P/EI). */
const FINE = { relative: 1e-5 };

describe('a cantilever column', () => {
  test.each([100, 150, 200])('under P = %d and a side force is that of the tangent formula', (P) => {
    const { solution, converged, reason } = frameSecondOrder(column([piece(0, L)]), push(P, 1), 0);
    const k = Math.sqrt(P / (E * I));
    expect([converged, reason]).toEqual([true, 'settled']);
    expectWithin(solution!.u[6]!, (Math.tan(k * L) / (k * L) - 1) * (L / P), FINE);
    expectWithin(-solution!.reaction[4]!, Math.tan(k * L) / k, FINE);
    // Statics on the displaced column, exactly.
    expectWithin(-solution!.reaction[4]!, L + P * solution!.u[6]!, { relative: 1e-9 });
    expectWithin(solution!.end[7 + 3]!, 0, { absolute: 1e-8 });
  });

  test('under tension is that of the hyperbolic tangent', () => {
    const P = 400;
    const k = Math.sqrt(P / (E * I));
    expectWithin(top(column([piece(0, L)]), push(-P, 1)), (1 - Math.tanh(k * L) / (k * L)) * (L / P), FINE);
  });

  test('with shear is Engesser’s: the slope that P works on includes shear', () => {
    // EI θ' = −M, w' = θ + (H + P w')/(GAs): the bending formulas with P̄ = P/(1 − P/GAs) in k, shear added.
    const P = 150;
    const as = 0.1;
    const GA = 11200 * as;
    const soft = { ...section, asy: as, asz: as };
    const stretch = 1 - P / GA;
    const k = Math.sqrt(P / (E * I * stretch));
    // M(x) = H sin(kx)/(k s cos(kL)) from the top, s = 1 − P/GAs; the foot's moment H L + P Δ gives Δ.
    const delta = (Math.tan(k * L) / (k * stretch) - L) / P;
    const errors = [16, 32, 64].map((n) => {
      const parts = Array.from({ length: n }, (_, i) => piece((L * i) / n, (L * (i + 1)) / n, { section: soft }));
      return top(column(parts), push(P, 1)) / delta - 1;
    });
    // Shear takes a third here, and its part of the geometric stiffness converges with the second power only.
    for (const i of [0, 1]) expectWithin(Math.log2(errors[i]! / errors[i + 1]!), 2, { absolute: 0.1 }, errors);
    expect(Math.abs(errors[2]!)).toBeLessThan(1e-5);
    // As a user gets it, uncut.
    expectWithin(top(column([piece(0, L, { section: soft })]), push(P, 1)), delta, { relative: 1e-3 });
  });

  test('on a spring foot sways by the spring too', () => {
    // Δ from M0 = H L + P Δ at the foot: rotation M0/c, then the column on its turned base.
    const P = 100;
    const c = 2e5;
    const flex: EndFlex = {
      end: 0,
      what: 'foot',
      axes: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      compliance: [0, 0, 0, 0, 1 / c, 0],
    };
    const k = Math.sqrt(P / (E * I));
    // w'' + k² w = −(H/EI)(L−x) − …: solution with w(0)=0, w'(0)=M0/c gives tan form with 1/(1 − P tan(kL)/(k c)).
    const t = Math.tan(k * L) / k;
    const foot = t / (1 - (P * t) / c);
    expectWithin(top(column([piece(0, L)], [flex]), push(P, 1)), (foot - L) / P, FINE);
  });

  test('on a rigid foot of its own, longer than the tube, is the tube with a rigid end', () => {
    // Foot node 100 below the tube's beginning: the moment there has the longer lever, the rest is the same.
    const P = 150;
    const a = frameSecondOrder(column([piece(100, L)], [], 0), push(P, 1), 0).solution!;
    const k = Math.sqrt(P / (E * I));
    const l = L - 100;
    expectWithin(a.u[6]!, (Math.tan(k * l) / (k * l) - 1) * (l / P), FINE);
    expectWithin(-a.reaction[4]!, L + P * a.u[6]!, { relative: 1e-9 });
  });

  test('hanging on a rigid arm that may turn feels the arm: a pendulum’s restoring moment', () => {
    // The column is rigid by comparison; its foot stands on a turning spring c, 100 below its beginning.
    const P = 50;
    const c = 1e5;
    const hard = { ...section, iy: I * 1e6, iz: I * 1e6, j: 2e6 * I };
    const g: LoadGroup = {
      ...push(P, 1),
      supports: [
        ...[0, 1, 2, 3, 5].map((component) => ({ node: 0, component })),
        { node: 0, component: 4, stiffness: c },
      ],
    };
    const s = column([piece(100, L, { section: hard })]);
    // c θ = H L + P L θ.
    expectWithin(top(s, g), (L * L) / (c - P * L), { relative: 1e-4 });
  });
});

test('loads at and above the buckling load are flagged, below it they are answered', () => {
  const s = column([piece(0, 120), piece(120, L)]);
  const { factor } = frameBuckling(s, push(1, 0), 0);
  expect(frameSecondOrder(s, push(0.999 * factor, 1e-3), 0).converged).toBe(true);
  for (const over of [1.001, 2, 9.5, 40]) {
    const { solution, converged, reason } = frameSecondOrder(s, push(over * factor, 1e-3), 0);
    expect([solution, converged, reason]).toEqual([undefined, false, 'above the buckling load']);
  }
});

test('small loads give the first-order answer, layout and all', () => {
  const frame = benchFrame();
  const g = frame.groups[0]!;
  const small: LoadGroup = {
    ...g,
    loads: [g.loads[1]!.map((l) => ({ ...l, force: l.force.map((f) => f * 1e-6) as never }))],
  };
  const [first] = frameSolver(frame.structure).solve(small);
  const second = frameSecondOrder(frame.structure, small, 0).solution!;
  const size = (v: Float64Array): number => v.reduce((m, x) => Math.max(m, Math.abs(x)), 0);
  for (const key of ['u', 'end', 'joint', 'reaction'] as const) {
    expect(second[key].length).toBe(first![key].length);
    first![key].forEach((value, i) => {
      expectWithin(second[key][i]!, value, { absolute: 1e-6 * size(first![key]) }, { key, i });
    });
  }
});

test('a mechanism is one in second order too, and a released member stays released', () => {
  const release: EndFlex = {
    end: 1,
    what: 'hinge',
    axes: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    compliance: [0, 0, 0, Infinity, Infinity, 0],
  };
  const s = column([piece(0, L)], [release]);
  expect(() => frameSecondOrder(s, push(100, 1), 0)).toThrow(/top is free to turn about [xy]/);
  const g = push(100, 1);
  const held: LoadGroup = { ...g, supports: [...g.supports, { node: 1, component: 3 }, { node: 1, component: 4 }] };
  const k = Math.sqrt(100 / (E * I));
  expectWithin(top(s, held), (Math.tan(k * L) / (k * L) - 1) * (L / 100), FINE);
});
