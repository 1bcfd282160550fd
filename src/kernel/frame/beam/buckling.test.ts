import { describe, expect, it, test } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { benchFrame } from '../../../../verification/frame/made-up-frame.ts';
import type { BeamMember, EndFlex, FrameStructure, LoadGroup, Piece } from '../structure.ts';
import { frameBuckling } from './buckling.ts';

const L = 900;
const E = 70000;
const I = 43215.75;
const section = { area: 238.76, iy: I, iz: 2 * I, j: 2 * I, asy: Infinity, asz: Infinity };
const piece = (from: number, to: number, extra: Partial<Piece> = {}): Piece => ({
  from: [from, 0, 0],
  to: [to, 0, 0],
  y: [0, 1, 0],
  E,
  G: 26300,
  section,
  ...extra,
});
const column = (pieces: readonly Piece[] = [piece(0, L)], flex: readonly EndFlex[] = []): FrameStructure => {
  const member: BeamMember = { name: 'column', from: 0, to: 1, flex, pieces };
  return {
    nodes: [
      { name: 'a', at: [0, 0, 0] },
      { name: 'b', at: [L, 0, 0] },
    ],
    members: [member],
    joints: [],
  };
};
const press = (P: number, a: readonly number[], b: readonly number[]): LoadGroup => ({
  supports: [...a.map((component) => ({ node: 0, component })), ...b.map((component) => ({ node: 1, component }))],
  fixtures: [],
  loads: [[{ node: 1, force: [-P, 0, 0], moment: [0, 0, 0] }]],
});
const euler = (Math.PI * Math.PI * E * I) / (L * L);
const ALL = [0, 1, 2, 3, 4, 5];
const PIN: [readonly number[], readonly number[]] = [
  [0, 1, 2, 3],
  [1, 2],
];
const ASKED = { relative: 1e-4 };
const flex = (end: 0 | 1, compliance: EndFlex['compliance']): EndFlex => ({
  end,
  what: 'end',
  axes: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  compliance,
});

describe('a column', () => {
  test.each([1e-6, 1, 1e9])('buckles at the same load whatever its load is (× %d)', (share) => {
    const r = frameBuckling(column(), press(share * euler, ...PIN), 0);
    expect([r.converged, r.member]).toEqual([true, 0]);
    expectWithin(r.factor * share, 1, ASKED);
  });

  test('buckles the same however it is cut into pieces', () => {
    const whole = frameBuckling(column(), press(euler, ...PIN), 0).factor;
    const cut = frameBuckling(column([piece(0, 77), piece(77, 550), piece(550, L)]), press(euler, ...PIN), 0).factor;
    expectWithin(cut, whole, ASKED);
  });

  test('released at both ends by its members’ hinges is the pinned one, torsion released at both ends too', () => {
    const hinge = [0, 0, 0, Infinity, Infinity, Infinity] as const;
    const r = frameBuckling(
      column([piece(0, L)], [flex(0, hinge), flex(1, hinge)]),
      press(euler, ALL, [1, 2, 3, 4, 5]),
      0,
    );
    expectWithin(r.factor, 1, ASKED);
  });

  test('on a spring at one end and a pin at the other buckles where the slope equation says', () => {
    // Pinned at one end, on a turning spring c at the other: cL/EI (1 − x cot x) + x² = 0 with x = L√(P/EI), π ≤ x ≤ 4.4934.
    const c = (6 * E * I) / L;
    const f = (x: number): number => 6 * (1 - x / Math.tan(x)) + x * x;
    let [a, b] = [Math.PI * (1 + 1e-12), 4.4934];
    for (let i = 0; i < 80; i++) {
      const x = (a + b) / 2;
      if (f(x) < 0) a = x;
      else b = x;
    }
    const s = column([piece(0, L)], [flex(0, [0, 0, 0, 0, 1 / c, 0])]);
    const r = frameBuckling(s, press(euler, ALL, [1, 2, 3]), 0);
    expectWithin(r.factor, (a * a) / (Math.PI * Math.PI), ASKED, a);
  });

  test('that tapers lies between those of its ends, and stepping it finely agrees', () => {
    const at = (t: number) => ({ ...section, iy: I * (2 - t), iz: 2 * I * (2 - t) });
    const smooth = frameBuckling(column([piece(0, L, { at, section: at(0) })]), press(euler, ...PIN), 0).factor;
    expect(smooth).toBeGreaterThan(1);
    expect(smooth).toBeLessThan(2);
    const n = 64;
    const steps = Array.from({ length: n }, (_, i) =>
      piece((L * i) / n, (L * (i + 1)) / n, { section: at((i + 0.5) / n) }),
    );
    expectWithin(frameBuckling(column(steps), press(euler, ...PIN), 0).factor, smooth, { relative: 1e-3 });
  });

  test('has the mode of a half sine: its middle moves, its ends turn against each other', () => {
    const r = frameBuckling(column([piece(0, L / 2), piece(L / 2, L)]), press(euler, ...PIN), 0);
    expect(r.mode[4]! * r.mode[10]!).toBeLessThan(0);
    expectWithin(Math.abs(r.mode[4]!), Math.PI / L, { relative: 1e-3 });
  });

  test('that is pulled, or not loaded, does not buckle', () => {
    for (const P of [-euler, 0]) {
      const r = frameBuckling(column(), press(P, ...PIN), 0);
      expect([r.factor, r.converged, r.member]).toEqual([Infinity, true, -1]);
    }
  });
});

test('a pendulum upside down: a stiff rod on a turning spring tips at c/L', () => {
  const hard = { ...section, iy: I * 1e4, iz: I * 1e4, j: 2e4 * I };
  const c = 1e6;
  const g: LoadGroup = {
    ...press(1, [0, 1, 2, 3, 5], []),
    supports: [...press(1, [0, 1, 2, 3, 5], []).supports, { node: 0, component: 4, stiffness: c }],
  };
  const r = frameBuckling(column([piece(300, L, { section: hard })]), g, 0);
  // Both the elastic part and the rigid arm of 300 lean on the spring.
  expectWithin(r.factor, c / L, { relative: 1e-3 });
});

test('a load on an arm above its node tips the node', () => {
  const s: FrameStructure = column([piece(0, L, { section: { ...section, iy: I * 1e4, iz: I * 1e4, j: 2e4 * I } })]);
  const c = 1e6;
  const supports = [
    ...[0, 1, 2, 3, 5].map((component) => ({ node: 0, component })),
    { node: 0, component: 4, stiffness: c },
  ];
  const g: LoadGroup = {
    supports,
    fixtures: [],
    loads: [[{ node: 1, at: [L + 500, 0, 0], force: [-1, 0, 0], moment: [0, 0, 0] }]],
  };
  expectWithin(frameBuckling(s, g, 0).factor, c / (L + 500), { relative: 1e-3 });
});

test('a whole frame: the factor is proved by counting, and doubling the load halves it', () => {
  const frame = benchFrame();
  const g = frame.groups[0]!;
  const a = frameBuckling(frame.structure, g, 0);
  const twice: LoadGroup = {
    ...g,
    loads: [g.loads[0]!.map((l) => ({ ...l, force: l.force.map((f) => 2 * f) as never }))],
  };
  const b = frameBuckling(frame.structure, twice, 0);
  expect([a.converged, b.converged]).toEqual([true, true]);
  expect(a.factor).toBeGreaterThan(1);
  expectWithin(b.factor * 2, a.factor, { relative: 1e-4 });
  expect(frame.structure.members[a.member]!.name).toMatch(/^post_foot-saddle/);
});

describe('a factor below a bound', () => {
  const column = (): { structure: FrameStructure; group: LoadGroup } => {
    const section = { area: 200, iy: 2e4, iz: 2e4, j: 4e4, asy: Infinity, asz: Infinity };
    const piece = { from: [0, 0, 0], to: [0, 0, 800], y: [0, 1, 0], E: 7e4, G: 2.63e4, section } as const;
    return {
      structure: {
        nodes: [
          { name: 'foot', at: [0, 0, 0] },
          { name: 'top', at: [0, 0, 800] },
        ],
        members: [{ name: 'column', from: 0, to: 1, pieces: [piece], flex: [] }],
        joints: [],
      },
      group: {
        supports: [0, 1, 2, 3, 4, 5].map((component) => ({ node: 0, component })),
        fixtures: [],
        loads: [[{ node: 1, force: [0, 0, -1000], moment: [0, 0, 0] }]],
      },
    };
  };
  it('is found when there is one, and costs one factorisation when there is none', () => {
    const { structure, group } = column();
    const free = frameBuckling(structure, group, 0);
    const sought = frameBuckling(structure, group, 0, { below: free.factor * 1.001 });
    expect(sought.factor).toBe(free.factor);
    const none = frameBuckling(structure, group, 0, { below: free.factor * 0.95 });
    expect(none.factor).toBe(Infinity);
    expect(none.iterations).toBe(1);
  });
});
