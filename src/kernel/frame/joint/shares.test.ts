import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { Vec3 } from '../../math/rigid.ts';
import { frameSolver } from '../beam/solver.ts';
import type { BeamMember, EndFlex, FrameJoint, FrameStructure, JointLaw, LoadGroup, NodeLoad } from '../structure.ts';
import { looseness } from './looseness.ts';
import { deflectionAt, deflectionShares } from './shares.ts';

/** The asked sum to 100 %. */
const HUNDRED = { relative: 1e-9 };
const ROUNDOFF = { relative: 1e-9, absolute: 1e-12 };

const axes: FrameJoint['axes'] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const E = 70_000;
const I = 43_216;
const rod = (name: string, from: number, to: number, a: Vec3, b: Vec3, flex: EndFlex[] = []): BeamMember => ({
  name,
  from,
  to,
  flex,
  pieces: [
    {
      from: a,
      to: b,
      y: [0, 1, 0],
      E,
      G: 26_000,
      section: { area: 239, iy: I, iz: I, j: 2 * I, asy: 120, asz: 120 },
    },
  ],
});
const wall: EndFlex = {
  end: 0,
  what: 'wall of root',
  axes,
  compliance: [2e-5, 1e-5, 3e-5, 1e-8, 4e-8, 2e-8],
};
const A: Vec3 = [0, 0, 0];
const B: Vec3 = [300, 0, 0];
const C: Vec3 = [300, 0, 200];
/** An angle: a beam along x on a flexible wall, a joint, a post along z. */
const angle = (bend: number): FrameStructure => ({
  nodes: [
    { name: 'root', at: A },
    { name: 'corner', at: B },
    { name: 'foot', at: B },
    { name: 'top', at: C },
  ],
  // The beam begins 20 mm off its node: a rigid offset between node and wall.
  members: [rod('beam', 0, 1, [20, 0, 0], B, [wall]), { ...rod('post', 2, 3, B, C) }],
  joints: [
    {
      name: 'hinge',
      role: 'joint',
      from: 1,
      to: 2,
      at: B,
      axes,
      laws: [1e5, 1e5, 1e5, 2e7, bend, 2e7].map((closed): JointLaw => ({ closed })) as unknown as FrameJoint['laws'],
    },
  ],
});
const clamped: LoadGroup = {
  supports: [0, 1, 2, 3, 4, 5].map((component) => ({ node: 0, component })),
  fixtures: [],
  loads: [],
};
const push: NodeLoad[] = [{ node: 3, force: [100, 40, -60], moment: [500, 0, 200] }];
const target = { node: 3, direction: [1, 0, 0] as Vec3 };
const value = (parts: ReturnType<typeof deflectionShares>['parts'], name: string): number =>
  parts.find((p) => p.name === name)!.value;

describe('shares of a deflection', () => {
  it('sum to the whole of it, for shifts, turns and differences', () => {
    const solver = frameSolver(angle(1e7));
    for (const t of [
      target,
      { node: 3, direction: [0.2, -0.9, 0.4] as Vec3 },
      { node: 3, direction: [0, 1, 0] as Vec3, turn: true },
      [target, { node: 1, direction: [-1, 0, 0] as Vec3 }],
    ]) {
      const { total, parts } = deflectionShares(solver, clamped, push, t);
      expect(Math.abs(total)).toBeGreaterThan(1e-6);
      expectWithin(
        parts.reduce((sum, p) => sum + p.value, 0),
        total,
        HUNDRED,
      );
    }
  });

  it('are what the hand gets for each part: M²/k of the joint, PL³/3EI + PL/GAs of the post, its wall, the beam', () => {
    const P = 100;
    const h = 200;
    const { parts, total } = deflectionShares(
      frameSolver(angle(1e7)),
      clamped,
      [{ node: 3, force: [P, 0, 0], moment: [0, 0, 0] }],
      target,
    );
    expectWithin(value(parts, 'hinge'), (P * h * h) / 1e7 + P / 1e5, ROUNDOFF);
    expectWithin(value(parts, 'post'), (P * h * h * h) / (3 * E * I) + (P * h) / (26_000 * 120), ROUNDOFF);
    // Over the beam the moment is P·h, constant; the pull P stretches it.
    expectWithin(value(parts, 'beam'), (P * h * h * 280) / (E * I) + (P * 280) / (E * 239), ROUNDOFF);
    expectWithin(value(parts, 'wall of root at beam'), P * h * h * 4e-8 + P * 2e-5, ROUNDOFF);
    expect(total).toBeGreaterThan(0);
    // Lifting the top, 280 mm ahead of the wall: its lever counts from the wall, not from the node behind it.
    const up = { node: 3, direction: [0, 0, 1] as Vec3 };
    const lifted = deflectionShares(
      frameSolver(angle(1e7)),
      clamped,
      [{ node: 3, force: [0, 0, P], moment: [0, 0, 0] }],
      up,
    );
    expectWithin(value(lifted.parts, 'wall of root at beam'), P * (280 * 280 * 4e-8 + 3e-5), ROUNDOFF);
  });

  it('of a joint double when its stiffness is halved, in a statically determinate frame, and no other changes', () => {
    const [a, b] = [1e7, 5e6].map((k) => deflectionShares(frameSolver(angle(k)), clamped, push, target));
    const bend = (s: typeof a) => s!.parts.find((p) => p.name === 'hinge')!.components![4]!;
    expectWithin(bend(b), 2 * bend(a), ROUNDOFF);
    for (const name of ['beam', 'post', 'wall of root at beam'])
      expectWithin(value(b!.parts, name), value(a!.parts, name), ROUNDOFF);
    expectWithin(b!.total - a!.total, bend(a), ROUNDOFF);
  });

  it('of a joint grow by less in an indeterminate frame: force goes elsewhere', () => {
    const propped: LoadGroup = {
      ...clamped,
      supports: [...clamped.supports, { node: 3, component: 2, stiffness: 500 }],
    };
    const [a, b] = [1e7, 5e6].map((k) => deflectionShares(frameSolver(angle(k)), propped, push, target));
    const bend = (s: typeof a) => s!.parts.find((p) => p.name === 'hinge')!.components![4]!;
    expect(bend(b)).toBeGreaterThan(bend(a));
    expect(bend(b)).toBeLessThan(2 * bend(a));
    const sum = (s: typeof a) => s!.parts.reduce((x, p) => x + p.value, 0);
    expectWithin(sum(a), a!.total, HUNDRED);
    expect(a!.parts.at(-1)!.name).toBe('support of top in uz');
  });

  it('count springs of a fixture', () => {
    const spring: FrameJoint = {
      ...angle(1e7).joints[0]!,
      name: 'tyre',
      role: 'fixture',
      from: -1,
      to: 3,
      at: C,
      laws: [50, 0, 0, 0, 0, 0].map((closed) => ({ closed })) as unknown as FrameJoint['laws'],
    };
    const { total, parts } = deflectionShares(
      frameSolver(angle(1e7)),
      { ...clamped, fixtures: [spring] },
      push,
      target,
    );
    expectWithin(
      parts.reduce((sum, p) => sum + p.value, 0),
      total,
      HUNDRED,
    );
    expect(parts.at(-1)).toMatchObject({ name: 'tyre', kind: 'fixture' });
    expect(value(parts, 'tyre')).toBeGreaterThan(0);
  });

  it('need a direction', () => {
    expect(() => deflectionShares(frameSolver(angle(1e7)), clamped, push, { node: 3, direction: [0, 0, 0] })).toThrow(
      RangeError,
    );
  });
});

describe('looseness at a grip', () => {
  const loose = (law: JointLaw) => {
    const base = angle(1e7);
    const laws = [...base.joints[0]!.laws] as JointLaw[];
    laws[4] = law;
    const structure = { ...base, joints: [{ ...base.joints[0]!, laws: laws as unknown as FrameJoint['laws'] }] };
    return looseness(frameSolver(structure), clamped, [{ node: 3, force: [100, 0, 0], moment: [0, 0, 0] }], target);
  };

  it('is the free angle times the height above the joint, now or once the preload is gone', () => {
    const play = 0.05 / 30;
    const free = loose({ closed: 1e7, play });
    expectWithin(free.lostNow, play * 200, { relative: 1e-6 });
    const held = loose({ closed: 1e7, play, preload: 50_000 });
    expectWithin(held.lostNow, 0, { absolute: 1e-9 });
    expectWithin(held.lostSlack, play * 200, { relative: 1e-6 });
    expect(held.converged).toBe(true);
  });

  it('has both slopes, each on its side', () => {
    const l = loose({ closed: 1e7, open: 2e6, opens: 1, preload: 50_000 });
    const softer = 100 * 200 * 200 * (1 / 2e6 - 1 / 1e7);
    expectWithin(l.open - l.closed, softer, { relative: 1e-8 });
    expectWithin(l.openBack, l.closed, { relative: 1e-8 });
    expect(deflectionAt(new Float64Array(24), target)).toBe(0);
  });
});
