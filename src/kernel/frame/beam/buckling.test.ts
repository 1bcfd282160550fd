import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { BeamMember, EndFlex, FrameStructure, LoadGroup } from '../structure.ts';
import { frameBuckling } from './buckling.ts';

const L = 900;
const E = 70000;
const I = 43215.75;
const section = { area: 238.76, iy: I, iz: 2 * I, j: 2 * I, asy: Infinity, asz: Infinity };
const column = (flex: EndFlex[] = [], asz = Infinity): FrameStructure => {
  const m: BeamMember = {
    name: 'column',
    from: 0,
    to: 1,
    flex,
    pieces: [{ from: [0, 0, 0], to: [L, 0, 0], y: [0, 1, 0], E, G: 26300, section: { ...section, asz } }],
  };
  return {
    nodes: [
      { name: 'a', at: [0, 0, 0] },
      { name: 'b', at: [L, 0, 0] },
    ],
    members: [m],
    joints: [],
  };
};
const press = (P: number, a: number[], b: number[]): LoadGroup => ({
  supports: [...a.map((component) => ({ node: 0, component })), ...b.map((component) => ({ node: 1, component }))],
  fixtures: [],
  loads: [[{ node: 1, force: [-P, 0, 0], moment: [0, 0, 0] }]],
});
const euler = (Math.PI * Math.PI * E * I) / (L * L);
const ALL = [0, 1, 2, 3, 4, 5];

describe('columns', () => {
  test.each([
    ['pin-pin', [0, 1, 2, 3], [1, 2], 1],
    ['clamp-free', ALL, [], 0.25],
    ['clamp-pin', ALL, [1, 2], 2.045748],
    ['clamp-clamp', ALL, [1, 2, 3, 4, 5], 4],
  ])('%s', (_, a, b, k) => {
    const r = frameBuckling(column(), press(1000, a, b), 0);
    console.log(_, r.factor / ((k * euler) / 1000) - 1, r.elements, r.iterations, r.reason, r.residual);
    expect(r.converged).toBe(true);
    expectWithin(r.factor, (k * euler) / 1000, { relative: 1e-3 });
  });
});
