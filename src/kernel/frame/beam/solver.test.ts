import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { benchFrame } from '../../../../verification/frame/made-up-frame.ts';
import type { Vec3 } from '../../math/rigid.ts';
import { type BeamMember, type FrameJoint, type FrameStructure, type LoadGroup, Mechanism } from '../structure.ts';
import { frameSolver } from './solver.ts';

/** Equilibrium and reciprocity: condition of these frames times round-off stays below. */
const SOLVED = { relative: 1e-9, absolute: 1e-12 };
const ALL = [0, 1, 2, 3, 4, 5];
const section = { area: 238.76, iy: 43215.75, iz: 43215.75, j: 86431.5, asy: Infinity, asz: Infinity };

function bar(name: string, from: number, to: number, a: Vec3, b: Vec3): BeamMember {
  const x: Vec3 = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const help: Vec3 = Math.abs(x[2]) > 0.9 * Math.sqrt(x[0] * x[0] + x[1] * x[1] + x[2] * x[2]) ? [1, 0, 0] : [0, 0, 1];
  const c: Vec3 = [help[1] * x[2] - help[2] * x[1], help[2] * x[0] - help[0] * x[2], help[0] * x[1] - help[1] * x[0]];
  const n = Math.sqrt(c[0] * c[0] + c[1] * c[1] + c[2] * c[2]);
  const y: Vec3 = [c[0] / n, c[1] / n, c[2] / n];
  return { name, from, to, flex: [], pieces: [{ from: a, to: b, y, E: 70000, G: 26300, section }] };
}
function chain(...points: Vec3[]): FrameStructure {
  return {
    nodes: points.map((at, i) => ({ name: `n${i}`, at })),
    members: points.slice(1).map((b, i) => bar(`m${i}`, i, i + 1, points[i]!, b)),
    joints: [],
  };
}
const hold = (node: number, ...components: number[]) => components.map((component) => ({ node, component }));
const push = (node: number, force: Vec3, moment: Vec3 = [0, 0, 0]) => [{ node, force, moment }];
const group = (supports: LoadGroup['supports'], ...loads: LoadGroup['loads'][number][]): LoadGroup => ({
  supports,
  fixtures: [],
  loads,
});
const caught = (work: () => unknown): Mechanism => {
  try {
    work();
  } catch (error) {
    if (error instanceof Mechanism) return error;
    throw error;
  }
  return expect.fail('no mechanism was found');
};

describe('a solution', () => {
  const frame = benchFrame();
  const solver = frameSolver(frame.structure, frame.groups);

  test('balances: reactions carry the loads, forces and moments, in every group', () => {
    for (const g of frame.groups) {
      const solutions = solver.solve(g);
      solutions.forEach((solution, l) => {
        const total = new Float64Array(6);
        const add = (at: Vec3, f: Vec3, m: Vec3): void => {
          const c = [at[1] * f[2] - at[2] * f[1], at[2] * f[0] - at[0] * f[2], at[0] * f[1] - at[1] * f[0]];
          for (let i = 0; i < 3; i++) {
            total[i]! += f[i]!;
            total[3 + i]! += m[i]! + c[i]!;
          }
        };
        for (const load of g.loads[l]!) add(frame.structure.nodes[load.node]!.at, load.force, load.moment);
        g.supports.forEach(({ node, component }, i) => {
          const six = [0, 0, 0, 0, 0, 0];
          six[component] = solution.reaction[i]!;
          add(frame.structure.nodes[node]!.at, six.slice(0, 3) as unknown as Vec3, six.slice(3) as unknown as Vec3);
        });
        for (let i = 0; i < 6; i++) expectWithin(total[i]!, 0, { absolute: i < 3 ? 1e-6 : 1e-3 }, { l, i });
        expect(solution.residual).toBeLessThan(1e-10);
      });
    }
  });

  test('does not depend on what was known when the order was made', () => {
    const late = frameSolver(frame.structure);
    for (const g of [...frame.groups].reverse()) {
      const a = solver.solve(g);
      const b = late.solve(g);
      a.forEach((solution, l) => {
        const size = Math.max(...solution.u.map(Math.abs));
        for (let i = 0; i < solution.u.length; i++)
          expectWithin(b[l]!.u[i]!, solution.u[i]!, { absolute: 1e-8 * size });
      });
    }
  });

  test('after an update is that of a new solver', () => {
    const grown = benchFrame(1.07);
    const moved = frameSolver(frame.structure, frame.groups);
    moved.solve(frame.groups[0]!);
    moved.update(grown.structure);
    const a = moved.solve(frame.groups[3]!)[1]!;
    const b = frameSolver(grown.structure, frame.groups).solve(frame.groups[3]!)[1]!;
    expect([...a.u]).toEqual([...b.u]);
    expect(a.u[0]).not.toBe(solver.solve(frame.groups[3]!)[1]!.u[0]);
  });

  test('obeys Maxwell: the motion at a by a force at b is that at b by the same force at a', () => {
    const node = frame.groups[3]!.supports[0]!.node;
    fc.assert(
      fc.property(fc.nat(39), fc.nat(39), fc.nat(5), fc.nat(5), (a, b, i, j) => {
        const unit = (n: number, c: number) => {
          const six = [0, 0, 0, 0, 0, 0];
          six[c] = c < 3 ? 1000 : 1e5;
          return push(n, six.slice(0, 3) as unknown as Vec3, six.slice(3) as unknown as Vec3);
        };
        const [first, second] = solver.solve(group(hold(node, ...ALL), unit(a, i), unit(b, j)));
        const work12 = first!.u[6 * b + j]! * (j < 3 ? 1000 : 1e5);
        const work21 = second!.u[6 * a + i]! * (i < 3 ? 1000 : 1e5);
        const own = Math.sqrt(first!.u[6 * a + i]! * second!.u[6 * b + j]!) * 1e3;
        expectWithin(work12, work21, { absolute: 1e-9 * Math.abs(own) + 1e-9 }, { a, b, i, j });
      }),
      { numRuns: 60 },
    );
  });

  test('takes a load beside its node as force and moment', () => {
    const s = chain([0, 0, 0], [500, 0, 0]);
    const [beside, onNode] = frameSolver(s).solve(
      group(
        hold(0, ...ALL),
        [{ node: 1, force: [3, -20, 100], moment: [0, 0, 7], at: [530, 40, -25] }],
        push(1, [3, -20, 100], [40 * 100 - -25 * -20, -25 * 3 - 30 * 100, 30 * -20 - 40 * 3 + 7]),
      ),
    );
    for (let i = 0; i < 12; i++) expectWithin(beside!.u[i]!, onNode!.u[i]!, SOLVED);
  });
});

describe('supports and joints', () => {
  const L = 500;
  const EI = 70000 * section.iy;
  const s = chain([0, 0, 0], [L, 0, 0]);
  const tip = push(1, [0, 0, -100]);

  test('a spring support is a spring: k = 3EI/L³ halves the deflection and takes half the load', () => {
    const k = (3 * EI) / (L * L * L);
    const [soft] = frameSolver(s).solve(group([...hold(0, ...ALL), { node: 1, component: 2, stiffness: k }], tip));
    expectWithin(soft!.u[8]!, -100 / (2 * k), SOLVED);
    expectWithin(soft!.reaction[6]!, 50, SOLVED);
  });

  test('a joint to the ground, a fixture and a support of the same stiffness are the same', () => {
    const laws = [0, 0, 250, 0, 4e6, 0].map((closed) => ({ closed })) as unknown as FrameJoint['laws'];
    const axes = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const;
    const joint: FrameJoint = { name: 'j', role: 'joint', from: -1, to: 1, at: [L, 0, 0], axes, laws };
    const held = hold(0, ...ALL);
    const stiff = [
      { node: 1, component: 2, stiffness: 250 },
      { node: 1, component: 4, stiffness: 4e6 },
    ];
    const [a] = frameSolver({ ...s, joints: [joint] }).solve(group(held, tip));
    const [b] = frameSolver(s).solve({ ...group(held, tip), fixtures: [{ ...joint, role: 'fixture' }] });
    const [c] = frameSolver(s).solve(group([...held, ...stiff], tip));
    for (const other of [b!, c!]) expectWithin(other.u[8]!, a!.u[8]!, SOLVED);
    expectWithin(a!.joint[2]!, 250 * a!.u[8]!, SOLVED);
    expectWithin(-c!.reaction[6]!, a!.joint[2]!, SOLVED);
    expectWithin(b!.joint[4]!, a!.joint[4]!, SOLVED);
  });

  test('a joint away from both its nodes carries moment by its arm', () => {
    // Two rods, 100 mm apart, tied by one joint in the middle that holds everything: like a rigid link.
    const nodes = chain([0, 0, 0], [L, 0, 0], [L + 100, 0, 0], [2 * L, 0, 0]);
    const members = [nodes.members[0]!, nodes.members[2]!];
    const joint: FrameJoint = {
      name: 'j',
      role: 'joint',
      from: 1,
      to: 2,
      at: [L + 50, 0, 0],
      axes: [
        [0, 0, 1],
        [1, 0, 0],
        [0, 1, 0],
      ],
      laws: [2e3, 2e3, 2e3, 1e7, 1e7, 1e7].map((closed) => ({ closed })) as unknown as FrameJoint['laws'],
    };
    const [r] = frameSolver({ nodes: nodes.nodes, members, joints: [joint] }).solve(
      group(hold(0, ...ALL), push(3, [0, 0, -100])),
    );
    // Force on the far part comes from the near one: shear −100 N along its first axis, moment about y of the arm 450 mm.
    expectWithin(r!.joint[0]!, -100, SOLVED);
    expectWithin(r!.joint[5]!, 100 * 450, SOLVED);
    const lever = L - 100;
    const beyond = (100 * lever * lever * lever) / (3 * EI);
    const root = (100 * L * L * L) / (3 * EI) + (100 * L * L * L) / (2 * EI);
    const turn = (100 * L * L) / (2 * EI) + (100 * L * L) / EI; // of the first rod's end: shear and the moment of 500 mm
    const expected = root + turn * (2 * L - L) + 100 / 2e3 + ((100 * 450) / 1e7) * 450 + beyond;
    expectWithin(-r!.u[20]!, expected, SOLVED);
  });

  test('stiffnesses and rest forces given for one solution replace the laws in that one only', () => {
    const frame = benchFrame();
    const solver = frameSolver(frame.structure, frame.groups);
    const g = frame.groups[1]!;
    const [before] = solver.solve(g);
    const k = new Float64Array(30);
    frame.structure.joints.forEach((joint, i) => {
      k.set(
        joint.laws.map((law) => law.closed),
        6 * i,
      );
    });
    const [same] = solver.solve(g, { jointStiffness: k });
    for (let i = 0; i < before!.u.length; i++) expectWithin(same!.u[i]!, before!.u[i]!, { absolute: 1e-7 });
    // A joint's force as a rest force with no stiffness: the same forces everywhere.
    const loose = k.slice();
    const rest = new Float64Array(30);
    loose[4] = 0;
    rest[4] = before!.joint[4]!;
    const [given] = solver.solve(group([...g.supports, ...hold(frame.index['front']!, 2)], g.loads[0]!), {
      jointStiffness: loose,
      jointForce: rest,
    });
    expectWithin(given!.joint[4]!, before!.joint[4]!, SOLVED);
    const [after] = solver.solve(g);
    expect([...after!.u]).toEqual([...before!.u]);
  });
});

describe('a mechanism', () => {
  const untidy = chain([0, 0, 0], [133.7, 11.3, 2.9], [401.9, -7.7, 61.1], [977.3, 3.3, 55.7]);
  const solve = (s: FrameStructure, supports: LoadGroup['supports'], n = s.nodes.length - 1) =>
    frameSolver(s).solve(group(supports, push(n, [1, 2, 3])));

  test('is found in an unsupported bar of unequal elements', () => {
    expect(caught(() => solve(untidy, [])).direction).toBe('ux');
  });

  test.each([
    ['x', 3, 'rx'],
    ['y', 4, 'ry'],
    ['z', 5, 'rz'],
  ])('names the foot and the turn about %s that nothing holds', (_, free, direction) => {
    const found = caught(() => solve(untidy, hold(0, ...ALL.filter((c) => c !== free))));
    expect([found.node, found.direction]).toEqual(['n0', direction]);
  });

  test.each([
    ['ux', 0],
    ['uy', 1],
    ['uz', 2],
  ])('names the shift %s', (direction, free) => {
    const found = caught(() => solve(untidy, hold(0, ...ALL.filter((c) => c !== free))));
    expect([found.node, found.direction]).toEqual(['n0', direction]);
  });

  test('of rods that meet in a node turns that node, though round-off leaves each a little stiffness', () => {
    const end = (points: readonly [Vec3, Vec3], m: BeamMember): BeamMember => ({
      ...m,
      flex: ([0, 1] as const).map((e) => {
        const { y, from, to } = m.pieces[0]!;
        const L = Math.sqrt(from.reduce((sum, v, i) => sum + (to[i]! - v) * (to[i]! - v), 0));
        const x = to.map((v, i) => (v - from[i]!) / L) as unknown as Vec3;
        const z: Vec3 = [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]];
        return {
          end: e,
          what: `hinge ${points.length}`,
          axes: [x, y, z],
          compliance: [0, 0, 0, Infinity, Infinity, Infinity],
        };
      }),
    });
    const feet: Vec3[] = [
      [0, 0, 0],
      [713.3, 31.9, 17.7],
      [311.1, 517.3, -41.3],
    ];
    const top: Vec3 = [297.3, 203.7, 611.9];
    const s: FrameStructure = {
      nodes: [...feet, top].map((at, i) => ({ name: `n${i}`, at })),
      members: feet.map((foot, i) => end([foot, top], bar(`rod${i}`, i, 3, foot, top))),
      joints: [],
    };
    const held = [0, 1, 2].flatMap((n) => hold(n, ...ALL));
    const found = caught(() => solve(s, held));
    expect([found.node, found.direction]).toEqual(['n3', 'rx']);
    const [tripod] = solve(s, [...held, ...hold(3, 3, 4, 5)]);
    for (const i of [0, 1, 2]) expect(Math.abs(tripod!.u[18 + i]!)).toBeLessThan(1e-3);
    const two = { ...s, members: s.members.slice(0, 2) };
    expect(caught(() => solve(two, [...held, ...hold(3, 3, 4, 5)])).node).toBe('n3');
  });

  test('of a beam on two supports that nothing keeps from rolling is a turn about its axis', () => {
    const s = chain([0, 0, 0], [317.3, 0, 0], [911.1, 0, 0]);
    expect(caught(() => solve(s, [...hold(0, 0, 1, 2), ...hold(2, 1, 2)], 1)).direction).toBe('rx');
  });

  test('of a part that hangs on nothing is found before any support is asked about', () => {
    const s = chain([0, 0, 0], [300, 0, 0], [700, 0, 0]);
    const loose = { ...s, members: [s.members[0]!] };
    expect(caught(() => solve(loose, hold(0, ...ALL), 1)).node).toBe('n2');
  });

  test('by a joint that is free about one axis turns about that axis, not about a global one', () => {
    const s = chain([0, 0, 0], [300, 0, 0], [300, 0, 0], [700, 50, 20]);
    const joint: FrameJoint = {
      name: 'pin',
      role: 'joint',
      from: 1,
      to: 2,
      at: [300, 0, 0],
      axes: [
        [1, 0, 0],
        [0, 0.8, 0.6],
        [0, -0.6, 0.8],
      ],
      laws: [1e5, 1e5, 1e5, 1e8, 0, 1e8].map((closed) => ({ closed })) as unknown as FrameJoint['laws'],
    };
    const hinged = {
      nodes: s.nodes,
      members: [s.members[0]!, bar('far', 2, 3, [300, 0, 0], [700, 50, 20])],
      joints: [joint],
    };
    const found = caught(() => solve(hinged, hold(0, ...ALL)));
    expect([found.node, found.direction]).toEqual(['n2', 'ry']);
    expect(() => solve(hinged, [...hold(0, ...ALL), ...hold(3, 2)])).not.toThrow();
  });

  test('is never seen in a sound cantilever of many unequal elements, and always without its foot', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.double({ min: 5, max: 200, noNaN: true }), fc.double({ min: -80, max: 80, noNaN: true })),
          {
            minLength: 1,
            maxLength: 60,
          },
        ),
        fc.nat(5),
        (steps, missing) => {
          const points: Vec3[] = [[0, 0, 0]];
          for (const [dx, dz] of steps) {
            const last = points.at(-1)!;
            points.push([last[0] + dx, last[1] + dz / 3, last[2] + dz]);
          }
          const s = chain(...points);
          const [r] = solve(s, hold(0, ...ALL));
          // Forces come from differences of motions: round-off of the tip's motion times 12EI/l³ of the shortest element.
          expect(r!.residual).toBeLessThan(1e-8);
          caught(() => solve(s, hold(0, ...ALL.filter((c) => c !== missing))));
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('numbers that are none', () => {
  const s = chain([0, 0, 0], [500, 0, 0]);
  const held = hold(0, ...ALL);
  test.each<[string, () => unknown]>([
    ['a load', () => frameSolver(s).solve(group(held, push(1, [NaN, 0, 0])))],
    ['an infinite load', () => frameSolver(s).solve(group(held, push(1, [Infinity, 0, 0])))],
    [
      'a support',
      () => frameSolver(s).solve(group([...held, { node: 1, component: 2, stiffness: NaN }], push(1, [1, 0, 0]))),
    ],
    ['a node that is not there', () => frameSolver(s).solve(group(hold(7, 0), push(1, [1, 0, 0])))],
    ['a place', () => frameSolver({ ...s, nodes: [s.nodes[0]!, { name: 'n1', at: [NaN, 0, 0] }] })],
  ])('are refused: %s', (_, work) => {
    expect(work).toThrow(RangeError);
    try {
      work();
    } catch (error) {
      expect(error).not.toBeInstanceOf(Mechanism);
    }
  });
});
