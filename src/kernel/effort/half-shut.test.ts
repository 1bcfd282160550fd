import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { type Cam, closeLatch, type Toggle } from '../frame/joint/mechanism.ts';
import { halfShut, LOOKS_SHUT, openStandsOff } from './half-shut.ts';

const ROUNDOFF = { relative: 1e-12 };
const DEGREE = Math.PI / 180;
const cam: Cam = {
  kind: 'cam',
  lever: 60,
  eccentricity: 1.2,
  radius: 7,
  past: 3 * DEGREE,
  pinRadius: 3,
  friction: 0.15,
  stack: 5000,
};
const hook: Toggle = {
  kind: 'toggle',
  form: 'draw',
  lever: 90,
  crank: 8,
  link: 36,
  past: 6 * DEGREE,
  pinRadius: 2.5,
  friction: 0.15,
  stack: 6000,
};

describe('an eccentric left short of its dead centre', () => {
  const left = halfShut(cam, 2500);
  test('is as good as shut where its friction is great: closed form of force and moment', () => {
    const phi = 2 * Math.asin(LOOKS_SHUT / 120) - cam.past;
    const full = 2500 / 5000 + 1.2 * (1 - Math.cos(cam.past));
    const force = 5000 * (full - 1.2 * (1 - Math.cos(phi)));
    const arm = 0.15 * (7 + 1.2 * Math.cos(phi) + 3) - 1.2 * Math.sin(phi);
    expectWithin(left.opensAt, (force * arm) / 60, ROUNDOFF);
    expectWithin(left.clamps, force / 2500, ROUNDOFF);
    expectWithin(left.standsOff, LOOKS_SHUT, ROUNDOFF);
    expect(left.state).toBe('holds');
  });
  test('springs open without friction', () => {
    expect(halfShut({ ...cam, friction: 0 }, 2500).state).toBe('springs_open');
  });
  test('is weak where little travel clamps it: it slackens before it is seen', () => {
    expect(halfShut({ ...cam, stack: 80000, lever: 40 }, 2500).state).toBe('weak');
  });
});

describe('a hook lever left short of its dead centre', () => {
  test('looks shut and opens at less than half the force', () => {
    const left = halfShut(hook, 4000);
    expect(left.state).toBe('weak');
    expect(left.opensAt).toBeLessThan(left.shutOpensAt / 2);
    expectWithin(left.shutOpensAt, closeLatch(hook, 4000).reopenForce, ROUNDOFF);
  });
  test('is seen where the lever is so long that dead centre stands off', () => {
    expect(halfShut({ ...hook, lever: 160 }, 4000).state).toBe('seen');
  });
  test('opens harder the longer the lever that shows it', () => {
    const forces = [90, 110, 130].map((lever) => halfShut({ ...hook, lever }, 4000).opensAt);
    expect(forces[0]).toBeLessThan(forces[1]!);
    expect(forces[1]).toBeLessThan(forces[2]!);
  });
});

test('a screw tells nothing, and holds with anything', () => {
  const screw = {
    kind: 'screw',
    lever: 60,
    pitch: 1,
    pitchDiameter: 5.35,
    headDiameter: 8,
    friction: 0.15,
    stack: 15000,
  } as const;
  expect(halfShut(screw, 3000)).toMatchObject({ state: 'weak', clamps: 0 });
  expect(openStandsOff(screw, closeLatch(screw, 3000))).toBeNaN();
});

test('a wedge steeper than its friction is thrown out; a flat one stays half driven', () => {
  const wedge = { kind: 'wedge', ratio: 9, angle: 7 * DEGREE, friction: 0.15, stack: 20000 } as const;
  expect(halfShut(wedge, 1500).state).toBe('weak');
  expect(halfShut({ ...wedge, angle: 20 * DEGREE }, 1500).state).toBe('springs_open');
});

test('a plunger’s pin on the rim of its hole stands out by the stroke', () => {
  const plunger = { kind: 'plunger', spring: 20, rate: 2, stroke: 9, nose: 0, friction: 0.15, stack: 12000 } as const;
  expect(halfShut(plunger, 0)).toMatchObject({ state: 'weak', standsOff: 9 });
  expect(halfShut({ ...plunger, stroke: 20 }, 0).state).toBe('seen');
});
