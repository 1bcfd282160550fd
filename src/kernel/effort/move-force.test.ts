import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import {
  forcesOf,
  NO_FRICTION,
  PENDULUM,
  parallelogram,
  pendulum,
  slope,
  weighedModel,
} from '../../../test/fixtures/weighed-models.ts';
import { STANDARD_GRAVITY as g } from '../math/index.ts';
import { FRICTION_DEFAULTS } from './joint-friction.ts';
import type { MoveForce } from './move-force.ts';

const ROUNDOFF = { relative: 1e-12, absolute: 1e-12 };
/** Simpson with 12 strips on a quarter sine: (π/2)⁴/(180·12⁴). */
const SIMPSON = { relative: 2e-6 };
/** Trapezoids with 12 strips on a quarter sine: (π/2)²/(12·12²). */
const TRAPEZOID = { relative: 1.5e-3 };
/** Closed loops are closed to 1e-10 m. */
const CLOSURE = { relative: 1e-7, absolute: 1e-8 };

const { length, mass } = PENDULUM;
const TIP = [0.1 + length, 0, 0.5] as const;

describe('a pendulum lifted from level to upright', () => {
  const [lift] = forcesOf(pendulum(), 'arm', TIP);
  test('asks for m g cos q at its end', () => {
    lift!.fold.force.forEach((force, k) => {
      expectWithin(force, mass * g * Math.cos(lift!.q[k]!), ROUNDOFF, k);
    });
    expect(lift!.fold.pushAt).toBe(0);
  });
  test('takes half the force at twice the arm', () => {
    const [far] = forcesOf(pendulum(), 'arm', [0.1 + 2 * length, 0, 0.5]);
    expectWithin(far!.fold.push, lift!.fold.push / 2, ROUNDOFF);
  });
  test('gains m g ℓ, which is the work of the hand', () => {
    expectWithin(lift!.rise, mass * g * length, ROUNDOFF);
    expectWithin(lift!.fold.work, mass * g * length, SIMPSON);
    expect(lift!.fold.returned).toBe(0);
    expect(lift!.fold.runaway).toBe(0);
  });
  test('falls back by itself: all its energy is set free, at the speed of free fall', () => {
    const { unfold } = lift!;
    expectWithin(unfold.back, mass * g, ROUNDOFF);
    expectWithin(unfold.returned, mass * g * length, SIMPSON);
    expectWithin(unfold.runaway, mass * g * length, TRAPEZOID);
    expectWithin(unfold.runawaySpeed, Math.sqrt(2 * g * length), TRAPEZOID);
  });
  test('pushes along its way, upwards at the start', () => {
    expectWithin(lift!.along[2]!, 1, ROUNDOFF);
    expectWithin(lift!.along[3 * lift!.u.length - 3]!, -1, ROUNDOFF);
  });
});

test('a rod that falls is slower at its tip than a point mass by its inertia: v² = 3 g ℓ', () => {
  const rod = weighedModel(
    {
      bodies: ['rest', 'rod'],
      joints: [
        { name: 'hinge', kind: 'pivot', held: 'none', between: ['rest', 'rod'], at: [0, 0, 0], axis: [0, 1, 0] },
      ],
      fold: [{ move: 'turn', joint: 'hinge', to: Math.PI / 2 }],
    },
    [{ body: 'rod', mass: 1.5, com: [0.3, 0, 0], inertia: [0, (1.5 * 0.36) / 12, (1.5 * 0.36) / 12] }],
  );
  const [fall] = forcesOf(rod, 'rod', [0.6, 0, 0]);
  expectWithin(fall!.fold.runawaySpeed, Math.sqrt(3 * g * 0.6), TRAPEZOID);
});

describe('a load that slides up a slope', () => {
  test('asks for m g sin α', () => {
    const [up] = forcesOf(slope(), 'sledge', [0, 0, 0]);
    expectWithin(up!.fold.push, 3 * g * 0.5, ROUNDOFF);
    expectWithin(up!.rise, 3 * g * 0.25, ROUNDOFF);
  });
  test('asks for m g (sin α + μ cos α) with friction, and needs no holding where friction is greater than the slope', () => {
    const rough = { ...NO_FRICTION, mu: 0.7, span: 0.2 };
    const [up] = forcesOf(slope(), 'sledge', [0, 0, 0], rough);
    // its centre of mass lies on the rail at the start and beside the guide later: the couple adds to the normal force
    expectWithin(up!.fold.force[0]!, 3 * g * (0.5 + 0.7 * Math.cos(Math.PI / 6)), ROUNDOFF);
    expect(up!.unfold.runaway).toBe(0);
    expectWithin(up!.fold.work, up!.rise + up!.loss, ROUNDOFF);
  });
});

describe('a parallelogram let down', () => {
  const sink = (angle: number): number => 4 * g * 0.3 * Math.sin(angle) + 1 * g * 0.15 * Math.sin(angle);
  test('needs dV/dq over the way of the hand, followers included', () => {
    const [down] = forcesOf(parallelogram(), 'beam', [0.5, 0, 0.5]);
    down!.fold.force.forEach((force, k) => {
      expectWithin(force, -sink(down!.q[k]!) / 0.3, CLOSURE, k);
    });
  });
  test('is the same motion whichever link is driven', () => {
    const [left] = forcesOf(parallelogram(), 'beam', [0.5, 0, 0.5]);
    const [right] = forcesOf(parallelogram(Math.PI / 3, 'right'), 'beam', [0.5, 0, 0.5]);
    left!.fold.force.forEach((force, k) => {
      expectWithin(right!.fold.force[k]!, force, CLOSURE, k);
    });
  });
});

/** Net work of the hand equals the rise, found from the end postures alone, plus what friction takes; both ways. */
const balances = (f: MoveForce): void => {
  const scale = Math.abs(f.rise) + f.loss + f.fold.work + f.fold.returned;
  const tolerance = { absolute: 1e-4 * scale, relative: 0 }; // Simpson over kinks where the force changes sign
  expectWithin(f.fold.work - f.fold.returned, f.rise + f.loss, tolerance);
  expectWithin(f.unfold.work - f.unfold.returned, -f.rise + f.loss, tolerance);
};
test('work of the hand is gain of potential energy and friction, with friction in every joint', () => {
  for (const w of [pendulum(-2.5), slope()])
    for (const f of forcesOf(w, w.m.top.names.bodies.at(-1)!, [0.4, 0, 0.2], FRICTION_DEFAULTS.pivot)) balances(f);
  for (const f of forcesOf(parallelogram(), 'beam', [0.1, 0, 0.6], FRICTION_DEFAULTS.pivot)) {
    balances(f);
    expect(f.loss).toBeGreaterThan(0);
  }
});
