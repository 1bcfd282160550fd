import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { BeamMember, FrameStructure, LoadGroup } from '../structure.ts';
import { frameSecondOrder } from './second-order.ts';

const L = 336;
const E = 29000;
const I = 484;
const G = 11200;
const shear = Infinity;
const column = (asy: number): FrameStructure => {
  const m: BeamMember = {
    name: 'column',
    from: 0,
    to: 1,
    flex: [],
    pieces: [
      {
        from: [0, 0, 0],
        to: [0, 0, L],
        y: [1, 0, 0],
        E,
        G,
        section: { area: 14.1, iy: I, iz: I, j: 2 * I, asy, asz: asy },
      },
    ],
  };
  return {
    nodes: [
      { name: 'a', at: [0, 0, 0] },
      { name: 'b', at: [0, 0, L] },
    ],
    members: [m],
    joints: [],
  };
};
const ALL = [0, 1, 2, 3, 4, 5];
const push = (P: number, H: number): LoadGroup => ({
  supports: ALL.map((component) => ({ node: 0, component })),
  fixtures: [],
  loads: [[{ node: 1, force: [H, 0, -P], moment: [0, 0, 0] }]],
});

describe('a cantilever column', () => {
  test.each([100, 150, 200])('under P = %d and a side force is that of the tangent formula', (P) => {
    const r = frameSecondOrder(column(shear), push(P, 1), 0);
    const k = Math.sqrt(P / (E * I));
    const delta = (Math.tan(k * L) / (k * L) - 1) * (L / P);
    const moment = Math.tan(k * L) / k;
    console.log(
      r.iterations,
      r.residual,
      r.solution!.u[6]! / delta - 1,
      r.solution!.reaction[4]! / moment + 1,
      r.solution!.residual,
    );
    expectWithin(r.solution!.u[6]!, delta, { relative: 1e-4 });
    expectWithin(-r.solution!.reaction[4]!, moment, { relative: 1e-4 });
  });
});
