import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { Vec3 } from '../../math/rigid.ts';
import { frameSolver } from '../beam/solver.ts';
import type { BeamMember, FrameJoint, FrameStructure, JointLaw, LoadGroup } from '../structure.ts';
import { solveWithJoints } from './contact.ts';
import { lawForce, lawMotion } from './joint-law.ts';

const E = 70_000;
const I = 87_010;
const L = 400;
/** Superposition against one joint stiffness of 1e7 N·mm/rad in a chain of three: observed below 1e-10. */
const SUPERPOSED = { relative: 1e-8, absolute: 1e-9 };

const rod = (name: string, from: number, to: number, a: Vec3, b: Vec3): BeamMember => ({
  name,
  from,
  to,
  flex: [],
  pieces: [
    {
      from: a,
      to: b,
      y: [0, 1, 0],
      E,
      G: 26_000,
      section: { area: 301.6, iy: I, iz: I, j: 2 * I, asy: Infinity, asz: Infinity },
    },
  ],
});
const stiff: JointLaw = { closed: 1e6 };
const turn: JointLaw = { closed: 3e7 };
const joint = (name: string, from: number, to: number, at: Vec3, about: JointLaw): FrameJoint => ({
  name,
  role: 'joint',
  from,
  to,
  at,
  axes: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  laws: [stiff, stiff, stiff, turn, about, turn],
});

/** A clamped beam along x, a joint that bends about y at its middle, a second beam. */
const cantilever = (law: JointLaw): FrameStructure => ({
  nodes: [
    { name: 'root', at: [0, 0, 0] },
    { name: 'left', at: [L, 0, 0] },
    { name: 'right', at: [L, 0, 0] },
    { name: 'tip', at: [2 * L, 0, 0] },
  ],
  members: [rod('first', 0, 1, [0, 0, 0], [L, 0, 0]), rod('second', 2, 3, [L, 0, 0], [2 * L, 0, 0])],
  joints: [joint('hinge', 1, 2, [L, 0, 0], law)],
});
const clamped = (force: Vec3, count = 1): LoadGroup => ({
  supports: [0, 1, 2, 3, 4, 5].map((component) => ({ node: 0, component })),
  fixtures: [],
  loads: Array.from({ length: count }, () => [{ node: 3, force, moment: [0, 0, 0] }]),
});
const tip = (law: JointLaw, force: number): number => {
  const structure = cantilever(law);
  const [s] = solveWithJoints(frameSolver(structure), clamped([0, 0, force]));
  expect(s!.converged).toBe(true);
  return s!.solution.u[6 * 3 + 2]!;
};

describe('a frame with joints that open', () => {
  it('has two slopes where a joint opens to one side without preload', () => {
    // Down at the tip turns the right part by +θ about y: the side that opens.
    const law: JointLaw = { closed: 3e7, open: 3e6, opens: 1 };
    const [down, up] = [-tip(law, -100), tip(law, 100)];
    const extra = (100 * L * L) / 3e6 - (100 * L * L) / 3e7;
    expectWithin(down - up, extra, SUPERPOSED);
    // Both are straight lines through rest.
    expectWithin(-tip(law, -250), 2.5 * down, SUPERPOSED);
    expectWithin(tip(law, 250), 2.5 * up, SUPERPOSED);
  });

  it('opens at its preload and not before', () => {
    const law: JointLaw = { closed: 3e7, open: 3e6, opens: 1, preload: 60_000 };
    const linear = -tip({ closed: 3e7 }, -100);
    expectWithin(-tip(law, -100), linear, SUPERPOSED); // 40 N·m at the joint
    // 80 N·m: the 20 N·m beyond the preload turn on the open stiffness.
    expectWithin(-tip(law, -200), 2 * linear + 20_000 * L * (1 / 3e6 - 1 / 3e7), SUPERPOSED);
  });

  it('moves by its play over the span: free angle times arm', () => {
    const law: JointLaw = { closed: 3e7, play: 0.002 };
    const free = (tip(law, 0.001) - tip(law, -0.001)) / 2;
    const elastic = tip({ closed: 3e7 }, 0.001);
    expectWithin(free - elastic, 0.001 * L, SUPERPOSED);
  });

  it('agrees with the joint law itself in a statically determinate frame, whatever the law', () => {
    const law = fc.record(
      {
        closed: fc.constant(3e7),
        open: fc.double({ min: 1e5, max: 3e7, noNaN: true }),
        opens: fc.constantFrom<-1 | 0 | 1>(-1, 0, 1),
        preload: fc.constantFrom(0, 20_000, 60_000),
        play: fc.constantFrom(0, 1e-4, 5e-3),
      },
      { requiredKeys: ['closed'] },
    );
    fc.assert(
      fc.property(law, fc.double({ min: -500, max: 500, noNaN: true }), (given, force) => {
        const M = -force * L;
        // Where the joint sits in a jump of its motion the answer is not unique.
        fc.pre(Math.abs(Math.abs(M) - (given.preload ?? 0)) > 1 && Math.abs(M) > 1);
        const closed = tip({ closed: 3e7 }, force);
        expectWithin(tip(given, force), closed - (lawMotion(given, M) - M / 3e7) * L, SUPERPOSED, { given, force });
      }),
      { numRuns: 60 },
    );
  });

  it('finds the same as the solver does with the branches put in', () => {
    // Two joints in a propped beam: statically indeterminate, so the branches share the load.
    const law: JointLaw = { closed: 3e7, open: 2e6, opens: 1, preload: 15_000, play: 1e-3 };
    const base = cantilever(law);
    const structure: FrameStructure = {
      nodes: [...base.nodes, { name: 'end', at: [2 * L, 0, 0] }, { name: 'far', at: [3 * L, 0, 0] }],
      members: [...base.members, rod('third', 4, 5, [2 * L, 0, 0], [3 * L, 0, 0])],
      joints: [...base.joints, joint('second hinge', 3, 4, [2 * L, 0, 0], { ...law, opens: -1 })],
    };
    const group: LoadGroup = {
      supports: [0, 5].flatMap((node) => [0, 1, 2, 3, 4, 5].map((component) => ({ node, component }))),
      fixtures: [],
      loads: [-2500, -900, -100, 900, 2500].map((f) => [{ node: 3, force: [0, 0, f], moment: [0, 20_000, 0] }]),
    };
    const solver = frameSolver(structure);
    const seen = new Set<string>();
    for (const [i, s] of solveWithJoints(solver, group).entries()) {
      expect(s.reason).toBe('branches agree');
      const stiffness = Float64Array.from(structure.joints.flatMap((j) => j.laws.map((l) => l.closed)));
      const rest = new Float64Array(12);
      for (const b of s.branches) {
        seen.add(b.branch);
        const at = 6 * b.joint + b.component;
        if (b.branch !== 'open') continue;
        stiffness[at] = 2e6;
        rest[at] = b.force - 2e6 * b.motion;
      }
      if (s.branches.some((b) => b.branch === 'play')) continue;
      const [plain] = solver.solve(
        { ...group, loads: [group.loads[i]!] },
        { jointStiffness: stiffness, jointForce: rest },
      );
      for (let k = 0; k < plain!.u.length; k++) expectWithin(s.solution.u[k]!, plain!.u[k]!, SUPERPOSED, { i, k });
      for (let k = 0; k < 12; k++)
        expectWithin(s.solution.joint[k]!, plain!.joint[k]!, { relative: 1e-7, absolute: 1e-4 });
      for (let k = 0; k < 12; k++)
        expectWithin(s.solution.reaction[k]!, plain!.reaction[k]!, { relative: 1e-7, absolute: 1e-4 });
    }
    for (const branch of ['closed', 'open']) expect(seen).toContain(branch);
  });

  it('settles on one answer, laws and equilibrium together, for random joints that share a load', () => {
    const law = (opens: -1 | 1): fc.Arbitrary<JointLaw> =>
      fc.record({
        closed: fc.constant(3e7),
        open: fc.double({ min: 1e4, max: 3e7, noNaN: true }),
        opens: fc.constantFrom<-1 | 0 | 1>(opens, 0),
        preload: fc.constantFrom(0, 5_000, 40_000),
        play: fc.constantFrom(0, 1e-4, 5e-3),
      });
    fc.assert(
      fc.property(law(1), law(-1), fc.double({ min: -3000, max: 3000, noNaN: true }), (first, second, force) => {
        const base = cantilever(first);
        const structure: FrameStructure = {
          nodes: [...base.nodes, { name: 'end', at: [2 * L, 0, 0] }, { name: 'far', at: [3 * L, 0, 0] }],
          members: [...base.members, rod('third', 4, 5, [2 * L, 0, 0], [3 * L, 0, 0])],
          joints: [...base.joints, joint('second hinge', 3, 4, [2 * L, 0, 0], second)],
        };
        const group: LoadGroup = {
          supports: [0, 5].flatMap((node) => [0, 1, 2, 3, 4, 5].map((component) => ({ node, component }))),
          fixtures: [],
          loads: [[{ node: 3, force: [0, 0, force], moment: [0, 10_000, 0] }]],
        };
        const [s] = solveWithJoints(frameSolver(structure), group);
        expect(s!.converged).toBe(true);
        const scale = 1e5 + Math.abs(force) * L;
        for (const b of s!.branches)
          expectWithin(
            lawForce(b.joint === 0 ? first : second, b.motion),
            b.force,
            { absolute: 1e-8 * scale },
            s!.branches,
          );
        const lift = s!.solution.reaction[2]! + s!.solution.reaction[8]!;
        expectWithin(lift, -force, { absolute: 1e-6 + 1e-9 * Math.abs(force) });
      }),
      { numRuns: 200 },
    );
  });

  it('tells that nothing holds a joint that has opened for good', () => {
    const law: JointLaw = { closed: 3e7, open: 0, opens: 1, preload: 1000 };
    const [s] = solveWithJoints(frameSolver(cantilever(law)), clamped([0, 0, -100]));
    expect(s!.converged).toBe(false);
    expect(s!.reason).toBe('nothing holds an open joint');
  });

  it('leaves linear joints to the linear solver and lets a law be changed', () => {
    const law: JointLaw = { closed: 3e7, open: 3e6, opens: 1 };
    const solver = frameSolver(cantilever(law));
    const group = clamped([0, 0, -100]);
    const [shut] = solveWithJoints(solver, group, { law: ({ closed }) => ({ closed }) });
    expect(shut!.reason).toBe('linear');
    expectWithin(shut!.solution.u[20]!, tip({ closed: 3e7 }, -100), SUPERPOSED);
    expect(() => solveWithJoints(solver, group, { law: ({ closed }) => ({ closed: closed / 2 }) })).toThrow(RangeError);
  });

  it('answers one-sided fixtures too: a prop that only pushes', () => {
    const structure = cantilever({ closed: 3e7 });
    const prop: FrameJoint = {
      name: 'prop',
      role: 'fixture',
      from: -1,
      to: 3,
      at: [2 * L, 0, 0],
      axes: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      // Free upwards (positive motion opens it), firm downwards.
      laws: [
        { closed: 0 },
        { closed: 0 },
        { closed: 1e5, open: 0, opens: 1 },
        { closed: 0 },
        { closed: 0 },
        { closed: 0 },
      ],
    };
    const group = (f: number): LoadGroup => ({ ...clamped([0, 0, f]), fixtures: [prop] });
    const solver = frameSolver(structure);
    const [down] = solveWithJoints(solver, group(-100));
    const [up] = solveWithJoints(solver, group(100));
    expectWithin(up!.solution.u[20]!, tip({ closed: 3e7 }, 100), { relative: 1e-6 });
    expectWithin(up!.solution.joint[6 + 2]!, 0, { absolute: 1e-6 });
    expect(down!.solution.joint[6 + 2]!).toBeLessThan(-99);
  });
});
