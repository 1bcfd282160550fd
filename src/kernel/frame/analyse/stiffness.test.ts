/** Stiffness figures of frames small enough for hand sums. */
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { E, G, hinge, laws, parts, place, STIFF, still, tube } from '../../../../test/fixtures/frame-parts.ts';
import type { Vec3 } from '../../math/rigid.ts';
import { frameSolver } from '../beam/index.ts';
import { buildFrame, type FrameParts } from '../build/build-frame.ts';
import { deflectionAt, deflectionShares } from '../joint/index.ts';
import type { FrameContext, Places } from '../places.ts';
import { beamSection } from '../section/index.ts';
import type { Support } from '../structure.ts';
import { STIFFNESS_IDS, type StiffnessId, stiffnessOf, stiffnessTest, workOf } from './stiffness.ts';

const HAND = { relative: 1e-9 };
const { iy, iz, j, asy, asz } = beamSection('round', 40, 40, 2, E / (2 * G) - 1);

const NONE: Places = {
  rearAxle: -1,
  frontAxle: -1,
  crank: -1,
  saddleClamp: -1,
  postClamp: -1,
  barClamp: -1,
  gripLeft: -1,
  gripRight: -1,
  barEndLeft: -1,
  barEndRight: -1,
  headTop: -1,
  headBottom: -1,
  crown: -1,
  luggage: -1,
  handle: -1,
};
function contextOf(p: FrameParts, extra: Partial<FrameContext> = {}): FrameContext {
  const f = buildFrame(p, { bodyT: still(3), hinges: p.hinges.map(() => 'locked') });
  const places = { ...NONE, ...Object.fromEntries(p.places.map((q, i) => [q.name, f.placeNode[i]!])) };
  // what these tests do not ask for is left out
  return {
    structure: f.structure,
    places,
    steerAxis: [0, 0, 1],
    frontRadius: 200,
    ...extra,
  } as unknown as FrameContext;
}
function stiffness(id: StiffnessId, context: FrameContext): number {
  const test = stiffnessTest(id, context)!;
  const [solution] = frameSolver(context.structure, [test.group]).solve(test.group);
  return stiffnessOf(test, solution!, context);
}
const [L, a] = [1000, 400];
const b = L - a;

/** A straight bicycle: a beam from axle to axle, saddle and bottom bracket 400 mm ahead of the rear axle. */
const straight = parts({
  tubes: [
    tube('beam', [
      [0, 0, 0],
      [L, 0, 0],
    ]),
  ],
  places: [
    place('rearAxle', [0, 0, 0]),
    place('frontAxle', [L, 0, 0]),
    place('crank', [a, 0, 0]),
    place('saddleClamp', [a, 0, 0]),
  ],
});

describe('a beam from axle to axle', () => {
  it('is as stiff under the saddle as on two supports', () => {
    const context = contextOf(straight, { saddle: [a, 0, 0] });
    const give = (a * a * b * b) / (3 * E * iy * L) + (a * b) / (L * G * asz);
    expectWithin(stiffness('saddle_vertical', context), 1 / give, HAND);
  });
  it('under a saddle that stands back by e turns there besides', () => {
    const e = 150;
    const context = contextOf(straight, { saddle: [a - e, 0, 500] });
    const give = (a * a * b * b) / (3 * E * iy * L) + (a * b) / (L * G * asz);
    // a couple M = e at a: turn per moment (a³ + b³)/(3 L² E I) + 1/(L G A), sink per moment a b (a − b)/(3 L E I)
    const turn = (a * a * a + b * b * b) / (3 * E * iy * L * L) + 1 / (L * G * asz);
    const sink = (a * b * (a - b)) / (3 * E * iy * L);
    // nearer to the rear support the beam is asked for less: the mixed term is negative
    expect(sink).toBeLessThan(0);
    expectWithin(stiffness('saddle_vertical', context), 1 / (give + e * e * turn + 2 * e * sink), HAND);
  });
  it('is as stiff sideways at the bottom bracket as a beam clamped behind and held in front', () => {
    const context = contextOf(straight);
    const bend = (x: number): number => (x * x * x) / (3 * E * iz) + x / (G * asy);
    // at the tip by a force at a, at a by itself, at the tip by itself
    const cross = bend(a) + (a * a * b) / (2 * E * iz);
    expectWithin(stiffness('bb_lateral', context), 1 / (bend(a) - (cross * cross) / bend(L)), HAND);
  });
  it('lacks what it has no places for', () => {
    const context = contextOf(straight, { saddle: [a, 0, 0] });
    expect(STIFFNESS_IDS.filter((id) => stiffnessTest(id, context))).not.toContain('bar_twist');
    expect(stiffnessTest('saddle_vertical', contextOf({ ...straight, places: straight.places.slice(0, 3) }))).toBe(
      undefined,
    );
  });
});

describe('a front end on a head tube', () => {
  // the steerer ends on the bar: rigid within the bar's 20 mm
  const [up, out, stub] = [250, 200, 20];
  const front = parts({
    tubes: [
      tube('beam', [
        [0, 0, 0],
        [L, 0, 0],
      ]),
      tube('head', [
        [L, 0, 0],
        [L, 0, 120],
      ]),
      tube(
        'steerer',
        [
          [L, 0, -80],
          [L, 0, 120 + up],
        ],
        { body: 1 },
      ),
      tube(
        'bar',
        [
          [L, out, 120 + up],
          [L, -out, 120 + up],
        ],
        { body: 1 },
      ),
    ],
    hinges: [hinge([L, 0, 0], { name: 'steering', kind: 'steerer' })],
    places: [
      place('rearAxle', [0, 0, 0]),
      place('frontAxle', [L, 0, -80], 1),
      place('gripLeft', [L, out, 120 + up], 1),
      place('gripRight', [L, -out, 120 + up], 1),
      place('headBottom', [L, 0, 0]),
      place('headTop', [L, 0, 120]),
      place('crown', [L, 0, -80], 1),
    ],
  });
  const context = contextOf(front);
  it('gives fore and aft by steerer, bar and the two bearings', () => {
    const [k, span] = [60_000, 120];
    // reaction of the bearings under a unit force at the top: (span + up)/span above, up/span below
    const bearings = ((span + up) * (span + up) + up * up) / (span * span * k);
    const above = (up * up * up - stub * stub * stub) / (3 * E * iy) + (up - stub) / (G * asz);
    const between = (up * up * span) / (3 * E * iy) + (up * up) / (span * G * asz);
    const half = (out * out * out) / (3 * E * iy) + out / (G * asz);
    expectWithin(stiffness('bar_fore_aft', context), 1 / (bearings + above + between + half / 2), HAND);
  });
  it('twists by the steerer down to the lock at its crown, and by the bar', () => {
    // a couple of unit forces 2 · out apart; the lock is 1e11 N·mm/rad
    const steerer = (120 + up - stub + 80) / (G * j);
    const half = (out * out * out) / (3 * E * iy) + out / (G * asz);
    const bar = (2 * half) / (4 * out * out);
    expectWithin(stiffness('bar_twist', context), 1 / (steerer + bar + 1 / 1e11), HAND);
  });
  it('and its frame in torsion by the beam, clamped behind and kept from moving aside in front', () => {
    expectWithin(stiffness('head_torsion', context), (G * j) / L, HAND);
  });
  it('sideways at the wheel: beam in bending and torsion, steerer below the head', () => {
    const arm = 80 + 200;
    const beam = (L * L * L) / (3 * E * iz) + L / (G * asy) + (arm * arm * L) / (G * j);
    const below = (x: number): number => (x * x * x) / 3;
    // the steerer below the lower bearing carries force and the moment of the wheel's radius; above it that moment
    const free = (below(arm) - below(200)) / (E * iy) + 80 / (G * asz);
    const between = (arm * arm * 120) / (3 * E * iy) + (arm * arm) / (120 * G * asz);
    const bearings = ((120 + arm) * (120 + arm) + arm * arm) / (120 * 120 * 60_000);
    // the head tube carries the upper bearing's force down to the beam's end
    const pull = arm / 120;
    const head = pull * pull * ((120 * 120 * 120) / (3 * E * iy) + 120 / (G * asz));
    expectWithin(stiffness('front_lateral', context), 1 / (beam + free + between + bearings + head), {
      relative: 1e-5,
    });
  });
});

describe('a deflection', () => {
  const clamp = (node: number): Support[] => [0, 1, 2, 3, 4, 5].map((component) => ({ node, component }));
  const hinged = (k: number): FrameContext =>
    contextOf(
      parts({
        tubes: [
          tube('rear', [
            [0, 0, 0],
            [a, 0, 0],
          ]),
          tube(
            'front',
            [
              [a, 0, 0],
              [L, 0, 0],
            ],
            { body: 1 },
          ),
          tube(
            'arm',
            [
              [700, 0, 0],
              [700, 0, 200],
            ],
            { body: 1, od: 30 },
          ),
        ],
        hinges: [hinge([a, 0, 0], { laws: laws(STIFF, STIFF, STIFF, 1e12, 1e12, k) })],
        places: [place('rearAxle', [0, 0, 0]), place('frontAxle', [L, 0, 0], 1), place('crank', [700, 0, 200], 1)],
      }),
    );
  const group = (context: FrameContext) => ({ supports: clamp(context.places.rearAxle), fixtures: [], loads: [] });
  it('is shared by its parts to 100 %, and half the stiffness of a joint is twice its own share of millimetres', () => {
    const ofJoint = (k: number) => {
      const context = hinged(k);
      const load = [{ node: context.places.frontAxle, force: [0, 100, 0] as Vec3, moment: [0, 0, 0] as Vec3 }];
      const solver = frameSolver(context.structure);
      const target = { node: context.places.frontAxle, direction: [0, 1, 0] as Vec3 };
      const shares = deflectionShares(solver, group(context), load, target);
      expectWithin(
        shares.parts.reduce((sum, p) => sum + p.value, 0),
        shares.total,
        HAND,
      );
      return {
        joint: shares.parts.find((p) => p.name === 'hinge')!.components![5]!,
        rest: shares.parts.filter((p) => p.name !== 'hinge').reduce((sum, p) => sum + p.value, 0),
      };
    };
    const [stiff, soft] = [ofJoint(4e7), ofJoint(2e7)];
    expectWithin(stiff.joint, (100 * b * b) / 4e7, HAND);
    expectWithin(soft.joint, 2 * stiff.joint, HAND);
    expectWithin(soft.rest, stiff.rest, HAND);
  });
  it('at one place by a force at another is that at the other by a force at the one', () => {
    const context = hinged(4e7);
    const [p, q] = [context.places.frontAxle, context.places.crank];
    const directions: readonly (readonly [Vec3, Vec3])[] = [
      [
        [0, 1, 0],
        [1, 0, 0],
      ],
      [
        [0, 0, 1],
        [0, 1, 0],
      ],
      [
        [0.3, -0.5, 0.7],
        [0.2, 0.9, -0.1],
      ],
    ];
    const load = (node: number, force: Vec3) => [{ node, force, moment: [0, 0, 0] as Vec3 }];
    for (const [at, there] of directions) {
      const loads = [load(p, at), load(q, there)];
      const [first, second] = frameSolver(context.structure).solve({ ...group(context), loads });
      const scale = Math.abs(workOf(loads[0]!, first!, context)) + Math.abs(workOf(loads[1]!, second!, context));
      expectWithin(
        deflectionAt(first!.u, { node: q, direction: there }),
        deflectionAt(second!.u, { node: p, direction: at }),
        { absolute: 1e-12 * scale, relative: 1e-9 },
      );
    }
  });
});
