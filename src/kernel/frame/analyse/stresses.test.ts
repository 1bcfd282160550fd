/** Stress points and one load case on them, against statics and section formulas by hand. */
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { block, E, G, hinge, laws, parts, place, still, tube } from '../../../../test/fixtures/frame-parts.ts';
import { compose, rotationAbout, turnVector, type Vec3 } from '../../math/rigid.ts';
import { frameSolver } from '../beam/index.ts';
import { type BuiltFrame, buildFrame, type FrameParts } from '../build/build-frame.ts';
import { type CaseLoads, caseWith, type FrameCase, UNLOADED } from '../cases/index.ts';
import { fatigueCurve, hotSpotRange, rangeAtCycles, teeHotSpotFactors } from '../fatigue/index.ts';
import type { NodeLoad, Support } from '../structure.ts';
import { pointForces, type StressPoints, stressPoints } from './points.ts';
import { evaluateCase } from './run-case.ts';
import type { DetailCurve, TubeStrength } from './strength.ts';

const HAND = { relative: 1e-9 };
const detail = (name: string, category: number, stress: DetailCurve['stress'] = 'nominal'): DetailCurve => ({
  name,
  stress,
  curve: fatigueCurve({ code: 'IIW', category }),
});
const STRENGTH: TubeStrength = {
  yield: 240,
  ultimate: 260,
  hazYield: 115,
  hazUltimate: 175,
  hazWidth: 25,
  nu: 0.33,
  onTube: detail('on tube', 36, 'hot-spot'),
  onPlate: detail('on plate', 20),
  carrying: detail('carrying', 28),
  bare: detail('bare', 80),
};
const clamp = (node: number): Support[] => [0, 1, 2, 3, 4, 5].map((component) => ({ node, component }));
/** Faces of blocks are found by bisection to 1e-9 mm. */
const round = (s: number): number => Math.round(s * 1e6) / 1e6;
const nodeOf = (f: BuiltFrame, name: string): number => f.placeNode[f.parts.places.findIndex((p) => p.name === name)]!;
const FATIGUE: FrameCase = { ...caseWith('vertical', 'city').case, kind: 'test_fatigue' };

interface Setup {
  readonly f: BuiltFrame;
  readonly set: StressPoints;
}
function setup(p: FrameParts, strength = STRENGTH, bodyT = still(2)): Setup {
  const f = buildFrame(p, { bodyT, hinges: p.hinges.map(() => 'locked') });
  return {
    f,
    set: stressPoints(
      f,
      f.parts.tubes.map(() => strength),
    ),
  };
}
function run(
  { f, set }: Setup,
  held: string,
  vectors: readonly (readonly NodeLoad[])[],
  ranges: CaseLoads['ranges'] = [],
) {
  const loads: CaseLoads = {
    applicable: true,
    supports: clamp(nodeOf(f, held)),
    fixtures: [],
    loads: vectors,
    labels: vectors.map((_, i) => `state ${i}`),
    ranges,
    findings: [],
    notes: [],
  };
  const solutions = frameSolver(f.structure, [loads]).solve(loads);
  return evaluateCase(FATIGUE, loads, solutions, set, f.parts.tubes.length);
}
const push = (f: BuiltFrame, name: string, force: Vec3, moment: Vec3 = [0, 0, 0]): NodeLoad => ({
  node: nodeOf(f, name),
  force,
  moment,
});

/** A tube of 40 × 2 that leaves a block of 40 mm about the origin and ends 400 mm away. */
const cantilever = (extra: Parameters<typeof tube>[2] = {}): FrameParts =>
  parts({
    tubes: [
      tube(
        'arm',
        [
          [0, 0, 0],
          [400, 0, 0],
        ],
        { welded: true, ...extra },
      ),
    ],
    blocks: [block('root', [0, 0, 0], [40, 60, 60])],
    places: [place('root', [0, 0, 0]), place('tip', [400, 0, 0])],
  });
const [D, d] = [40, 36];
const area = (Math.PI / 4) * (D * D - d * d);
const inertia = (Math.PI / 64) * (D * D * D * D - d * d * d * d);
const W = inertia / (D / 2);
/** Largest shear stress per newton: half the ring's first moment over I times both walls. */
const shearPeak = (D * D * D - d * d * d) / 12 / (inertia * 4);

describe('a cantilever welded to a block', () => {
  it('is looked at where it leaves the block, at the edge of its weakened zone, and at its tip', () => {
    const { set } = setup(cantilever());
    expect(set.points.map((p) => [round(p.s), p.haz, p.strength, p.detail?.name])).toEqual([
      [20, true, 115, 'on plate'],
      [400, false, 240, 'bare'],
      [45, true, 115, 'bare'],
    ]);
  });
  it('bears F L over W at its root, with its shear', () => {
    const s = setup(cantilever());
    const F = 300;
    const { worst } = run(s, 'root', [[push(s.f, 'tip', [0, 0, F])]]);
    expect(round(s.set.points[worst.point]!.s)).toBe(20);
    const [sigma, tau] = [(F * 380) / W, F * shearPeak];
    expectWithin(worst.stress, Math.sqrt(sigma * sigma + 3 * tau * tau), HAND);
    expectWithin(worst.use, worst.stress / 115, HAND);
  });
  it('adds pull, bending about both axes and torsion as the section does', () => {
    const s = setup(cantilever());
    const moment: Vec3 = [9e4, 4e4, -3e4];
    const { forces, worst } = run(s, 'root', [[push(s.f, 'tip', [2000, 0, 0], moment)]]);
    expectWithin(forces[0]!, 2000, HAND);
    const sigma = 2000 / area + 5e4 / W;
    const tau = 9e4 / (2 * W);
    expectWithin(worst.stress, Math.sqrt(sigma * sigma + 3 * tau * tau), HAND);
  });
  it('counts the weak metal within the zone and no farther', () => {
    // no moment at the weld, and more of it outwards: in the zone the edge is worst, overall the tip
    const s = setup(cantilever());
    const F = 300;
    const { worst, forces } = run(s, 'root', [[push(s.f, 'tip', [0, 0, F], [0, F * 380, 0])]]);
    // a moment about the lateral axis bends in the plane of the height, about local z
    const mz = s.set.points.map((_, i) => Math.abs(forces[6 * i + 5]!));
    [0, F * 380, F * 25].forEach((m, i) => {
      expectWithin(mz[i]!, m, { relative: 1e-9, absolute: 1e-5 }, i);
    });
    expect(s.set.points[worst.point]!.s).toBe(400);
    const weak = setup(cantilever(), { ...STRENGTH, hazYield: 10 });
    const { worst: inside } = run(weak, 'root', [[push(weak.f, 'tip', [0, 0, F], [0, F * 380, 0])]]);
    expect(round(weak.set.points[inside.point]!.s)).toBe(45);
  });
  it('has no zone when it is not welded', () => {
    const { set } = setup(cantilever({ welded: false }), { ...STRENGTH, hazWidth: 0, hazYield: 240 });
    expect(set.points.map((p) => [round(p.s), p.haz, p.detail?.name])).toEqual([
      [20, false, 'bare'],
      [400, false, 'bare'],
    ]);
  });
  it('swings by twice its stress under a load that reverses, by it under one that comes and goes', () => {
    const s = setup(cantilever());
    const vectors = [[push(s.f, 'tip', [0, 0, 50])], [push(s.f, 'tip', [0, 0, -50])]];
    const once = run(s, 'root', vectors, [{ label: 'on and off', states: [UNLOADED, 0], cycles: 1e5 }]).fatigue!;
    const both = run(s, 'root', vectors, [{ label: 'to and fro', states: [0, 1], cycles: 1e5 }]).fatigue!;
    expectWithin(once.range, (50 * 380) / W, HAND);
    expectWithin(both.range, 2 * once.range, HAND);
    expectWithin(both.reserve, rangeAtCycles(STRENGTH.onPlate!.curve, 1e5) / both.range, HAND);
    expect(s.set.points[both.point]!.detail!.name).toBe('on plate');
  });
  it('that tapers is looked at every quarter, with the section there', () => {
    const ends = [
      { height: 44, width: 44, wall: 2 },
      { height: 20, width: 20, wall: 2 },
    ] as const;
    const s = setup(cantilever({ ends }));
    expect(s.set.points.map((p) => round(p.s))).toEqual([20, 115, 210, 305, 400, 45]);
    expectWithin(s.set.points[2]!.section.height, 44 - (24 * 210) / 400, HAND);
    // near the thin end a force bends more than at the root: σ = F x/W(x) is greatest where the tube tapers fast
    const { worst } = run(s, 'root', [[push(s.f, 'tip', [0, 0, 100])]]);
    const best = s.set.points.map((p) => (100 * (400 - p.s)) / p.section.wz / p.strength);
    expect(worst.point).toBe(best.indexOf(Math.max(...best)));
  });
  it('that is bent bears the moment of the true lever at every chord', () => {
    const points: readonly Vec3[] = [
      [0, 0, 0],
      [300, 0, 0],
      [300, 0, 300],
    ];
    const s = setup({
      ...cantilever({ points, bendRadius: 100 }),
      places: [place('root', [0, 0, 0]), place('tip', [300, 0, 300])],
    });
    const { forces } = run(s, 'root', [[push(s.f, 'tip', [0, 200, 0])]]);
    s.set.points.forEach((p, i) => {
      const [r0, r2] = [300 - p.at[0], 300 - p.at[2]];
      const [t, my, mz] = [forces[6 * i + 3]!, forces[6 * i + 4]!, forces[6 * i + 5]!];
      // r × F = (−r2, 0, r0) · 200, whatever the chord's own axes are
      expectWithin(
        Math.sqrt(t * t + my * my + mz * mz),
        200 * Math.sqrt(r0 * r0 + r2 * r2),
        { relative: 1e-9, absolute: 1e-6 },
        p.s,
      );
    });
  });
});

describe('a weld', () => {
  it('on a tube’s side weakens that tube from the foot of the other on, both ways', () => {
    const tee = parts({
      tubes: [
        tube(
          'chord',
          [
            [0, 0, 0],
            [400, 0, 0],
          ],
          { welded: true },
        ),
        tube(
          'brace',
          [
            [200, 0, 0],
            [200, 0, 300],
          ],
          { od: 30, welded: true },
        ),
      ],
      places: [place('root', [0, 0, 0]), place('far', [400, 0, 0]), place('tip', [200, 0, 300])],
    });
    const { set } = setup(tee);
    const of = (t: number) => set.points.filter((p) => p.tube === t).map((p) => [round(p.s), p.haz, p.detail?.name]);
    // the brace's 30 mm and 25 mm more on either side
    expect(of(0)).toEqual([
      [0, false, 'bare'],
      [200, true, 'carrying'],
      [160, true, 'bare'],
      [200, true, 'carrying'],
      [400, false, 'bare'],
      [240, true, 'bare'],
    ]);
    // the brace from the chord's wall on
    expect(of(1)).toEqual([
      [20, true, 'on tube'],
      [300, false, 'bare'],
      [45, true, 'bare'],
    ]);
  });
  it('behind a stretch that bends is not the weld of what lies beyond', () => {
    const p = cantilever();
    const { set } = setup({ ...p, places: [...p.places, place('mid', [90, 0, 0])] });
    const beyond = set.points.filter((q) => q.member === 1 && q.s === 90);
    expect(beyond.map((q) => [q.haz, q.detail?.name])).toEqual([[false, 'bare']]);
  });
  it('is where a welded tube ends at a pivot, its lug beginning at the cut-out; not where it ends in a clamp', () => {
    const joined = (kind: 'pivot' | 'post'): FrameParts =>
      parts({
        tubes: [
          tube(
            'a',
            [
              [0, 0, 0],
              [200, 0, 0],
            ],
            { welded: true },
          ),
          tube(
            'b',
            [
              [200, 0, 0],
              [400, 0, 0],
            ],
            { welded: true, body: 1 },
          ),
        ],
        hinges: [hinge([200, 0, 0], { kind, cutOut: 30, laws: laws(1e6, 1e6, 1e6, 1e9, 1e9, 1e9) })],
        places: [place('root', [0, 0, 0]), place('tip', [400, 0, 0], 1)],
      });
    const weak = (kind: 'pivot' | 'post') =>
      setup(joined(kind))
        .set.points.filter((p) => p.haz)
        .map((p) => [p.tube, p.s]);
    expect(weak('pivot')).toEqual([
      [0, 170],
      [0, 145],
      [1, 30],
      [1, 55],
    ]);
    expect(weak('post')).toEqual([]);
  });
});

describe('a tube on the side of another, judged at the hot spot', () => {
  const slope = Math.PI / 3;
  const top: Vec3 = [200 + 300 * Math.cos(slope), 0, 300 * Math.sin(slope)];
  const wye = parts({
    tubes: [
      tube(
        'chord',
        [
          [0, 0, 0],
          [400, 0, 0],
        ],
        { od: 50, t: 2.5, welded: true },
      ),
      tube('brace', [[200, 0, 0], top], { od: 30, t: 1.8, welded: true }),
    ],
    places: [place('root', [0, 0, 0]), place('tip', top)],
  });
  // along the brace, across it in the plane of both, out of it
  const [c, s] = [Math.cos(slope), Math.sin(slope)];
  const world = (along: number, inPlane: number, out: number): Vec3 => [
    c * along - s * inPlane,
    out,
    s * along + c * inPlane,
  ];
  const hand = ([along, inPlane, out]: readonly [number, number, number]) => {
    const lever = 300 - 25 / s;
    const [o, i] = [30, 26.4];
    const w = (Math.PI / 32) * ((o * o * o * o - i * i * i * i) / o);
    return {
      axial: along / ((Math.PI / 4) * (o * o - i * i)),
      inPlane: (inPlane * lever) / w,
      outOfPlane: (out * lever) / w,
    };
  };
  const factors = teeHotSpotFactors({ chordOd: 50, chordWall: 2.5, braceOd: 30, braceWall: 1.8, angle: slope });
  const setupWye = setup(wye);
  const rangeOf = (a: readonly [number, number, number], b: readonly [number, number, number]) => {
    const { f } = setupWye;
    const result = run(
      setupWye,
      'root',
      [a, b].map((v) => [push(f, 'tip', world(...v))]),
      [{ label: 'cycle', states: [0, 1], cycles: 1e5 }],
    );
    const at = setupWye.set.points.findIndex((p) => p.hotSpot);
    return { result, at };
  };
  it.each([
    [
      [1000, 0, 0],
      [0, 0, 0],
    ],
    [
      [0, 60, 0],
      [0, -60, 0],
    ],
    [
      [0, 0, 40],
      [0, 0, -30],
    ],
    [
      [800, 50, -30],
      [-200, -20, 45],
    ],
    [
      [500, 40, 40],
      [500, 40, -40],
    ],
  ] as [[number, number, number], [number, number, number]][])(
    'swings as hotSpotRange of the statics by hand: %j to %j',
    (a, b) => {
      const { result, at } = rangeOf(a, b);
      const expected = hotSpotRange(factors, [hand(a), hand(b)]).range;
      const fatigue = result.fatigue!;
      // the worst point of the frame need not be the brace's foot: ask for that tube's
      expectWithin(rangeAtCycles(STRENGTH.onTube!.curve, 1e5) / result.reserveOfTube![1]!, expected, HAND);
      expect(fatigue.reserve).toBeLessThanOrEqual(result.reserveOfTube![1]!);
      expect(at).toBeGreaterThanOrEqual(0);
    },
  );
});

/** Two bodies, a bend, a welded wall, an oval tube, a sprung joint. */
const mixed = (k = 1): FrameParts => {
  const at = (x: number, y: number, z: number): Vec3 => [k * x, k * y, k * z];
  const oval = { height: 50 * k, width: 36 * k, wall: 2 * k };
  return parts({
    tubes: [
      tube('main', [at(0, 0, 0), at(400, 0, 60)], { shape: 'oval', ends: [oval, oval], welded: true }),
      tube('stay', [at(200, 0, 30), at(150, 40, 200), at(-50, 60, 300)], {
        od: 24 * k,
        t: 1.5 * k,
        bendRadius: 50 * k,
        welded: true,
      }),
      tube('front', [at(400, 0, 60), at(700, 20, 160)], { body: 1, od: 38 * k, t: 2 * k, welded: true }),
    ],
    hinges: [
      hinge(at(400, -30, 60), {
        centre: at(400, -10, 60),
        cutOut: 25 * k,
        laws: laws(5e4 * k, 4e4 * k, 3e4 * k, 2e7 * k * k * k, 1e7 * k * k * k, 4e7 * k * k * k),
      }),
    ],
    places: [place('root', at(0, 0, 0)), place('end', at(-50, 60, 300)), place('tip', at(700, 20, 160), 1)],
  });
};
const FORCE: Vec3 = [300, -200, 150];
const MOMENT: Vec3 = [9e3, 2e4, -1e4];

function forcesOf(s: Setup, load: readonly NodeLoad[]): Float64Array {
  const group = {
    supports: [...clamp(nodeOf(s.f, 'root')), ...clamp(nodeOf(s.f, 'end'))],
    fixtures: [],
    loads: [load],
  };
  const [solution] = frameSolver(s.f.structure, [group]).solve(group);
  const out = new Float64Array(6 * s.set.points.length);
  pointForces(s.set, solution!.end, out);
  return out;
}

describe('section forces', () => {
  const upright = setup(mixed());
  const straight = forcesOf(upright, [push(upright.f, 'tip', FORCE, MOMENT)]);
  const size = Math.max(...straight.map(Math.abs));
  it('are the same when the bicycle, its loads and its supports are carried elsewhere', () => {
    const turn = new Float64Array(12);
    rotationAbout(0.3, -0.2, 0.5, 2 / 3, -1 / 3, 2 / 3, 1.1, turn);
    turn[3]! += 4;
    const bodyT = still(2);
    for (const o of [0, 12]) compose(turn, 0, bodyT.slice(), o, bodyT, o);
    const s = setup(mixed(), STRENGTH, bodyT);
    const turned = forcesOf(s, [push(s.f, 'tip', turnVector(turn, 0, FORCE), turnVector(turn, 0, MOMENT))]);
    expect(turned.length).toBe(straight.length);
    turned.forEach((v, i) => {
      expectWithin(v, straight[i]!, { relative: 1e-9, absolute: 1e-9 * size }, i);
    });
  });
  it('give the same stress in a frame twice as large under four times the force', () => {
    const k = 2;
    const big = setup(mixed(k), { ...STRENGTH, hazWidth: k * STRENGTH.hazWidth });
    const scaled = (v: Vec3, f: number): Vec3 => [v[0] * f, v[1] * f, v[2] * f];
    const grown = forcesOf(big, [push(big.f, 'tip', scaled(FORCE, k * k), scaled(MOMENT, k * k * k))]);
    expect(big.set.points.length).toBe(upright.set.points.length);
    grown.forEach((v, i) => {
      const factor = i % 6 < 3 ? k * k : k * k * k;
      expectWithin(v / factor, straight[i]!, { relative: 1e-8, absolute: 1e-9 * size }, i);
    });
  });
});

it('a block given by its stiffness has no stress points, one given by its section has them at the edges of its box', () => {
  const line: readonly Vec3[] = [
    [0, 0, 0],
    [300, 0, 0],
  ];
  const box = { height: 50, width: 30, wall: 15 };
  const section = { area: 600, iy: 9e4, iz: 2e5, j: 1.5e5, asy: 500, asz: 500 };
  const given = (g: NonNullable<FrameParts['tubes'][number]['given']>): Setup =>
    setup(
      parts({
        tubes: [tube('block', line, { shape: 'rectangular', ends: [box, box], given: g })],
        places: [place('root', line[0]!), place('tip', line[1]!)],
      }),
    );
  const s = given({ section });
  const { worst } = run(s, 'root', [[push(s.f, 'tip', [600, 0, 0], [0, 3e4, 4e4])]]);
  expectWithin(worst.stress, 1 + 3e4 / (2e5 / 25) + 4e4 / (9e4 / 15), HAND);
  const diagonal = [(E * 600) / 300, 1e4, 1e4, (G * 1.5e5) / 300, 1e8, 1e8];
  const matrix = diagonal.flatMap((k, i) => diagonal.map((_, j) => (i === j ? k : 0)));
  expect(given({ stiffness: matrix }).set.points).toEqual([]);
});
