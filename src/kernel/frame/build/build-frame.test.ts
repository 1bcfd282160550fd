import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { block, E, G, hinge, laws, parts, place, STIFF, still, tube } from '../../../../test/fixtures/frame-parts.ts';
import { rotationAbout, type Vec3 } from '../../math/rigid.ts';
import { frameSolver } from '../beam/index.ts';
import { beamSection } from '../section/index.ts';
import {
  type BeamSection,
  type FrameJoint,
  type LoadGroup,
  Mechanism,
  type NodeLoad,
  type Support,
} from '../structure.ts';
import { type BuiltFrame, buildFrame, type FrameParts } from './build-frame.ts';
import type { FrameTube, HingeState } from './parts.ts';

/** Hand sums against one factorisation: conditioning of the small structures here. */
const HAND = { relative: 1e-9 };

const section = (od: number, t: number) => beamSection('round', od, od, t, E / (2 * G) - 1);
const nodeOf = (f: BuiltFrame, name: string): number => f.placeNode[f.parts.places.findIndex((p) => p.name === name)]!;
const clamp = (node: number): Support[] => [0, 1, 2, 3, 4, 5].map((component) => ({ node, component }));
const push = (node: number, force: Vec3, moment: Vec3 = [0, 0, 0]): NodeLoad => ({ node, force, moment });
function solve(
  f: BuiltFrame,
  held: readonly string[],
  load: readonly NodeLoad[],
  fixtures: readonly FrameJoint[] = [],
) {
  const group: LoadGroup = { supports: held.flatMap((name) => clamp(nodeOf(f, name))), fixtures, loads: [load] };
  return frameSolver(f.structure, [group]).solve(group)[0]!;
}
const built = (p: FrameParts, states: readonly HingeState[] = p.hinges.map(() => 'locked'), bodyT = still(2)) =>
  buildFrame(p, { bodyT, hinges: states });

/** Textbook end stiffness of a beam with its first end clamped: along, height, third axis; rows of 36. */
function tubeStiffness(line: readonly Vec3[], s: BeamSection): number[] {
  const d = [0, 1, 2].map((i) => line[1]![i]! - line[0]![i]!);
  const L = Math.sqrt(d.reduce((sum, x) => sum + x * x, 0));
  const k = new Array<number>(36).fill(0);
  const plane = (shift: number, turn: number, sign: number, inertia: number, shear: number): void => {
    const phi = (12 * E * inertia) / (G * shear * L * L);
    const c = (E * inertia) / (1 + phi);
    k[7 * shift] = (12 * c) / (L * L * L);
    k[7 * turn] = ((4 + phi) * c) / L;
    k[6 * shift + turn] = (sign * 6 * c) / (L * L);
    k[6 * turn + shift] = (sign * 6 * c) / (L * L);
  };
  k[0] = (E * s.area) / L;
  k[21] = (G * s.j) / L;
  plane(1, 5, -1, s.iz, s.asy);
  plane(2, 4, 1, s.iy, s.asz);
  return k;
}

describe('a tube on the side of another', () => {
  const tee = (welded: boolean): FrameParts =>
    parts({
      tubes: [
        tube(
          'chord',
          [
            [0, 0, 0],
            [400, 0, 0],
          ],
          { welded },
        ),
        tube(
          'brace',
          [
            [200, 0, 0],
            [200, 0, 300],
          ],
          { od: 30, welded },
        ),
      ],
      places: [place('a', [0, 0, 0]), place('b', [400, 0, 0]), place('tip', [200, 0, 300])],
    });
  const [F, a, L] = [500, 200, 280];
  const chord = section(40, 2);
  const brace = section(30, 2);
  const phi = (12 * E * chord.iy) / (G * chord.asz * a * a);
  const turn = (F * 300) / ((2 * (4 + phi) * E * chord.iy) / ((1 + phi) * a));
  const byHand =
    (F * a) / (2 * E * chord.area) + 300 * turn + (F * L * L * L) / (3 * E * brace.iy) + (F * L) / (G * brace.asz);
  it('bends from the wall that it comes out of: the hand value of a T with a rigid stub', () => {
    const f = built(tee(false));
    const { u } = solve(f, ['a', 'b'], [push(nodeOf(f, 'tip'), [F, 0, 0])]);
    expectWithin(u[6 * nodeOf(f, 'tip')]!, byHand, HAND);
  });
  it('gives by the wall’s flexibility besides, when it is welded', () => {
    const f = built(tee(true));
    const [flex] = f.structure.members.find((m) => m.name === 'brace')!.flex;
    expect(flex).toMatchObject({ end: 0, what: 'wall of chord' });
    const { u } = solve(f, ['a', 'b'], [push(nodeOf(f, 'tip'), [F, 0, 0])]);
    // in-plane bending turns about the normal of the plane of both, the third axis: F · 280² · compliance
    expectWithin(u[6 * nodeOf(f, 'tip')]!, byHand + F * L * L * flex!.compliance[5], HAND);
  });
});

describe('a joint', () => {
  const [F, k] = [300, 4e7];
  const halves = (extra: Parameters<typeof hinge>[1], at: Vec3 = [200, 0, 0]): FrameParts =>
    parts({
      tubes: [
        tube('rear', [
          [0, 0, 0],
          [200, 0, 0],
        ]),
        tube(
          'front',
          [
            [200, 0, 0],
            [400, 0, 0],
          ],
          { body: 1 },
        ),
      ],
      hinges: [hinge(at, extra)],
      places: [place('root', [0, 0, 0]), place('tip', [400, 0, 0], 1)],
    });
  const s = section(40, 2);
  it('with a cut-out leaves its members rigid for that long and turns by its stiffness', () => {
    const f = built(halves({ cutOut: 30, laws: laws(STIFF, STIFF, STIFF, 1e12, 1e12, k) }));
    const cube = (p: number, q: number): number => (q * q * q - p * p * p) / 3;
    const byHand =
      (F * (cube(0, 170) + cube(230, 400))) / (E * s.iz) + (F * 340) / (G * s.asy) + (F * 200 * 200) / k + F / STIFF;
    const { u } = solve(f, ['root'], [push(nodeOf(f, 'tip'), [0, F, 0])]);
    expectWithin(u[6 * nodeOf(f, 'tip') + 1]!, byHand, HAND);
  });
  it('whose pin stands beside the members feels a pull as a moment about the pin', () => {
    const f = built(halves({ laws: laws(STIFF, STIFF, STIFF, 1e12, 1e12, k) }, [200, -36, 0]));
    const { u } = solve(f, ['root'], [push(nodeOf(f, 'tip'), [F, 0, 0])]);
    expectWithin(u[6 * nodeOf(f, 'tip')]!, (F * 400) / (E * s.area) + (F * 36 * 36) / k + F / STIFF, HAND);
  });
  it('that is free about its axis is a mechanism, named', () => {
    const f = built(halves({}, [200, -36, 0]));
    expect(() => solve(f, ['root'], [push(nodeOf(f, 'tip'), [F, 0, 0])])).toThrow(Mechanism);
    const locked = halves({ laws: laws(STIFF, STIFF, STIFF, 1e12, 1e12, k) });
    expect(() => {
      const open = built(locked, ['free']);
      solve(open, ['root'], [push(nodeOf(open, 'tip'), [F, 0, 0])]);
    }).toThrow(/free to (turn about|move along) [xyz]/);
  });
  it('ties two members that lie as near alike', () => {
    const stays = parts({
      tubes: [
        tube(
          'left',
          [
            [0, 60, 0],
            [300, 60, 0],
          ],
          { body: 1 },
        ),
        tube(
          'right',
          [
            [0, -60, 0],
            [300, -60, 0],
          ],
          { body: 1 },
        ),
        tube('beam', [
          [-300, 0, 0],
          [0, 0, 0],
        ]),
      ],
      hinges: [hinge([0, 0, 0], { axis: [0, 1, 0] })],
      places: [place('root', [-300, 0, 0]), place('l', [300, 60, 0], 1), place('r', [300, -60, 0], 1)],
    });
    const f = built(stays);
    const [left, right] = ['left', 'right'].map((n) => f.structure.members.find((m) => m.name === n)!);
    expect(left!.from).toBe(right!.from);
    expect(f.bridges).toMatchObject([{ a: 'hinge', b: 'left' }]);
  });
  it('that is absent ties nothing: what it would carry is refused', () => {
    expect(() => built(halves({}), ['absent'])).toThrow(/nothing carries load between/);
  });
});

describe('a steerer', () => {
  const bike = parts({
    tubes: [
      tube('head', [
        [0, 0, 0],
        [0, 0, 120],
      ]),
      tube(
        'steerer',
        [
          [0, 0, -30],
          [0, 0, 160],
        ],
        { body: 1, od: 28 },
      ),
      tube(
        'blade',
        [
          [0, 0, -30],
          [60, 0, -400],
        ],
        { body: 1, od: 24 },
      ),
    ],
    hinges: [hinge([0, 0, 0], { name: 'steering', kind: 'steerer' })],
    places: [place('axle', [60, 0, -400], 1), place('bar', [0, 0, 160], 1)],
  });
  const f = built(bike);
  const held = (load: readonly NodeLoad[], spring: number) => {
    const lock: FrameJoint = {
      name: 'lock',
      role: 'fixture',
      from: f.head.bottom,
      to: f.head.crown,
      at: [0, 0, 0],
      axes: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      laws: laws(0, 0, 0, 0, 0, spring),
    };
    const group: LoadGroup = {
      supports: [...clamp(f.head.bottom), ...clamp(f.head.top)],
      fixtures: [lock],
      loads: [load],
    };
    return frameSolver(f.structure, [group]).solve(group)[0]!;
  };
  it('turns freely about its axis: the moment there is all the lock’s', () => {
    const bar = nodeOf(f, 'bar');
    expect(() => held([push(bar, [0, 0, 0], [0, 0, 1000])], 0)).toThrow(Mechanism);
    const [soft, softer] = [1e3, 5e2].map((k) => held([push(bar, [0, 0, 0], [0, 0, 1000])], k).u[6 * bar + 5]!);
    // the steerer itself twists by 1e-5 rad: what halving the lock adds is the lock's own turn
    expectWithin(softer! - soft!, 1000 / 5e2 - 1000 / 1e3, HAND);
  });
  it('holds against everything else, and along the axis in the lower bearing alone', () => {
    const axle = nodeOf(f, 'axle');
    for (const force of [
      [100, 0, 0],
      [0, 100, 0],
      [0, 0, 100],
    ] as const) {
      const { u, joint } = held([push(axle, force)], 1e9);
      expect(Math.max(...u.map(Math.abs))).toBeLessThan(20);
      const axial = [joint[2]!, joint[8]!];
      expectWithin(Math.abs(axial[0]!), force[2], { absolute: 1e-6 });
      expectWithin(axial[1]!, 0, { absolute: 1e-9 });
    }
  });
  it('without a head tube among the tubes is tied by its own laws', () => {
    const lumpy = parts({
      ...bike,
      tubes: bike.tubes.filter((t) => t.name !== 'head'),
      blocks: [block('head', [0, 0, 60], [40, 40, 120])],
      hinges: [hinge([0, 0, 60], { name: 'steering', kind: 'steerer', laws: laws(1e5, 1e5, 8e4, 1e8, 1e8, 0) })],
      places: [...bike.places, place('root', [0, 0, 60])],
    });
    const g = built(lumpy);
    expect(g.structure.joints.map((j) => j.name)).toEqual(['steering']);
    expect(g.head).toEqual({ bottom: -1, top: -1, crown: -1 });
  });
});

describe('what carries nothing', () => {
  it('is left out, and what is loaded bends as if it were there', () => {
    const tubes = [
      tube('beam', [
        [0, 0, 0],
        [200, 0, 0],
        [400, 0, 60],
      ]),
      tube(
        'arm',
        [
          [200, 0, 0],
          [200, 0, 300],
        ],
        { od: 30 },
      ),
      tube(
        'twig',
        [
          [200, 0, 200],
          [350, 0, 200],
        ],
        { od: 20 },
      ),
    ];
    const few = [place('root', [0, 0, 0]), place('tip', [400, 0, 60])];
    const bare = built(parts({ tubes, places: few }));
    const full = built(parts({ tubes, places: [...few, place('end', [350, 0, 200])] }));
    expect(bare.structure.members.map((m) => m.name)).toEqual(['beam (1)', 'beam (2)']);
    expect(full.structure.members.length).toBe(4);
    const load = (f: BuiltFrame) => solve(f, ['root'], [push(nodeOf(f, 'tip'), [30, -200, 700], [9e3, 2e4, -5e3])]);
    const [p, q] = [load(bare), load(full)];
    for (let k = 0; k < 6; k++)
      expectWithin(p.u[6 * nodeOf(bare, 'tip') + k]!, q.u[6 * nodeOf(full, 'tip') + k]!, {
        relative: 1e-9,
        absolute: 1e-12,
      });
  });
  it('of a place on a body that bears no load there is no node', () => {
    const f = built(
      parts({
        tubes: [
          tube('a', [
            [0, 0, 0],
            [300, 0, 0],
          ]),
        ],
        places: [place('root', [0, 0, 0]), place('x', [9, 9, 9], 1), place('tip', [300, 0, 0])],
      }),
    );
    expect([...f.placeNode].map((n) => n < 0)).toEqual([false, true, false]);
  });
});

describe('a body in pieces', () => {
  it('is refused with the two members and the gap', () => {
    const two = parts({
      tubes: [
        tube('a', [
          [0, 0, 0],
          [300, 0, 0],
        ]),
        tube('b', [
          [0, 0, 100],
          [300, 0, 100],
        ]),
      ],
      places: [place('p', [0, 0, 0]), place('q', [300, 0, 0]), place('r', [0, 0, 100]), place('s', [300, 0, 100])],
    });
    expect(() => built(two)).toThrow(
      'a and b belong to one body but lie 60 mm apart: nothing in the file carries load between them',
    );
  });
});

describe('another posture', () => {
  const post = parts({
    tubes: [
      tube('sleeve', [
        [0, 0, 0],
        [200, 0, 0],
      ]),
      tube(
        'post',
        [
          [100, 0, 0],
          [500, 0, 0],
        ],
        { body: 1, od: 34 },
      ),
    ],
    hinges: [
      hinge([200, 0, 0], {
        kind: 'post',
        axis: [1, 0, 0],
        axes: [
          [0, 1, 0],
          [0, 0, 1],
          [1, 0, 0],
        ],
        laws: laws(STIFF, STIFF, STIFF, 1e12, 1e12, 1e12),
      }),
    ],
    places: [place('clamp', [200, 0, 0]), place('tip', [500, 0, 0], 1)],
  });
  const slid = (by: number): Float64Array => {
    const bodyT = still(2);
    bodyT[12 + 3] = by / 1e3;
    return bodyT;
  };
  it('of a post that slid through its clamp: the free length is what sticks out of it', () => {
    const s = section(34, 2);
    for (const by of [0, 50, -80]) {
      const f = built(post, ['locked'], slid(by));
      const { u } = solve(f, ['clamp'], [push(nodeOf(f, 'tip'), [0, 0, 100])]);
      const L = 300 + by;
      const tube = (100 * L * L * L) / (3 * E * s.iy) + (100 * L) / (G * s.asz);
      expectWithin(u[6 * nodeOf(f, 'tip') + 2]!, tube + 100 / STIFF + (100 * L * L) / 1e12, HAND);
    }
  });
  it('with the clamp open lets the post slide: a mechanism along it', () => {
    const f = built(post, ['free'], slid(50));
    expect(() => solve(f, ['clamp'], [push(nodeOf(f, 'tip'), [0, 0, 100])])).toThrow(/free to move along x/);
  });
  it('of a folded joint: its second body turns about the pin and hangs on the same point', () => {
    const f0 = parts({
      tubes: [
        tube('rear', [
          [0, 0, 0],
          [200, 0, 0],
        ]),
        tube(
          'front',
          [
            [200, 0, 0],
            [400, 0, 0],
          ],
          { body: 1 },
        ),
      ],
      hinges: [hinge([200, -36, 0], { laws: laws(STIFF, STIFF, STIFF, 1e12, 1e12, 4e7) })],
      places: [place('root', [0, 0, 0]), place('tip', [400, 0, 0], 1)],
    });
    const bodyT = still(2);
    rotationAbout(0.2, -0.036, 0, 0, 0, 1, -Math.PI, bodyT, 12);
    const f = built(f0, ['locked'], bodyT);
    const tip = f.placePoint[1]!;
    [0, -72, 0].forEach((v, k) => {
      expectWithin(tip[k]!, v, { absolute: 1e-9 }, k);
    });
    // a force along z at the tip twists the joint's bending springs, about x by 36 and about y by 200
    const { u } = solve(f, ['root'], [push(nodeOf(f, 'tip'), [0, 10, 0])]);
    const s = section(40, 2);
    // sideways: rear bends by F and by the moment of the lever 200 back, front bends as a cantilever of 200
    const bend = (10 * 200 * 200 * 200) / (E * s.iz);
    // at the joint: v = bend/3 − bend/2, turn = bend/200/2 − bend/200; the tip lies 200 back from there
    const byHand =
      bend / 3 -
      bend / 2 +
      200 * (bend / 200 - bend / 400) +
      bend / 3 +
      (2 * 10 * 200) / (G * s.asy) +
      (10 * 200 * 200) / 4e7 +
      10 / STIFF;
    expectWithin(u[6 * nodeOf(f, 'tip') + 1]!, byHand, HAND);
  });
});

describe('a block', () => {
  const along: readonly Vec3[] = [
    [200, 10, 0],
    [420, 60, 90],
  ];
  const withMember = (member: Partial<FrameTube>): FrameParts =>
    parts({
      tubes: [
        tube('rear', [[0, 0, 0], along[0]!]),
        tube('bridge', along, { shape: 'rectangular', ends: [size, size], ...member }),
        tube('front', [along[1]!, [600, 60, 90]]),
      ],
      places: [place('root', [0, 0, 0]), place('tip', [600, 60, 90])],
    });
  const size = { height: 50, width: 30, wall: 3 };
  const sec = beamSection('rectangular', 50, 30, 3, E / (2 * G) - 1);
  const tip = (p: FrameParts): Float64Array => {
    const f = built(p);
    const n = nodeOf(f, 'tip');
    return solve(f, ['root'], [push(n, [300, -200, 700], [1e4, 4e4, -3e4])]).u.subarray(6 * n, 6 * n + 6);
  };
  it('given by the section, or by the stiffness matrix, of a beam is that beam', () => {
    const beam = tip(withMember({}));
    const bySection = tip(withMember({ given: { section: sec } }));
    const byMatrix = tip(withMember({ given: { stiffness: tubeStiffness(along, sec) } }));
    for (let k = 0; k < 6; k++) {
      expectWithin(bySection[k]!, beam[k]!, { relative: 1e-9 }, k);
      expectWithin(byMatrix[k]!, beam[k]!, { relative: 1e-9 }, k);
    }
  });
  it('given by a matrix is tied at its ends, wherever something meets it', () => {
    const p = withMember({ given: { stiffness: tubeStiffness(along, sec) } });
    const stub = tube(
      'stub',
      [
        [264, 24.5, 26],
        [264, 300, 26],
      ],
      { od: 20 },
    );
    const f = built({ ...p, tubes: [...p.tubes, stub], places: [...p.places, place('end', [264, 300, 26])] });
    const bridge = f.structure.members.filter((m) => m.name.startsWith('bridge'));
    expect(bridge).toHaveLength(1);
    expect(f.structure.members.find((m) => m.name === 'stub')!.from).toBe(bridge[0]!.from);
  });
});
