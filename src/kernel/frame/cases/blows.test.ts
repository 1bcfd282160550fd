import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import { RIDE } from '../../../../test/fixtures/frame-bicycle.ts';
import {
  forceOfEnergy,
  type HubMobility,
  impulseForce,
  inertiaRelief,
  landOnTyres,
  mobilityAt,
  plasticBlow,
  type StepInput,
  tyreOnStep,
  useSpectrum,
} from './index.ts';
import { rigidAcceleration } from './statics.ts';

const G = 9.80665;
const ROUNDOFF = 64 * EPS;
const SOFT = { stiffness: 130, stroke: 1e6, rim: 130 };
const isotropic = (kg: number): HubMobility => ({ xx: 1 / kg, xz: 0, zz: 1 / kg });
const step = (change: Partial<StepInput>): StepInput => ({
  radius: 200,
  height: 25,
  speed: 5000,
  load: 475,
  tyre: SOFT,
  mobility: { xx: 1 / 60, xz: 0, zz: 1 / 25 },
  ...change,
});

describe('a wheel on a step', () => {
  it('presses the tyre in by step and sag where the hub is too heavy to be lifted', () => {
    const heavy = tyreOnStep(step({ mobility: isotropic(1e9), height: 20 }));
    // k (20 mm + sag) against the edge and once more the load at rest while the ground before the step is still touched.
    // The greatest sum is met on the last step before the edge is under the hub: within v dt of it, 3e-3.
    expectWithin(heavy.peak, 130 * 20 + 2 * 475, { relative: 3e-3 });
    expect(heavy.peak).toBeLessThanOrEqual(130 * 20 + 2 * 475 + 1e-6);
  });
  it('answers a single hit of a hard tyre with v sin θ √(k m)', () => {
    const tyre = { stiffness: 4e5, stroke: 1e6, rim: 4e5 };
    const hit = tyreOnStep(step({ tyre, load: 0, mobility: isotropic(20) }), 240);
    // The contact lasts 0.4 ms, in which the hub goes round the edge by 1 % of the radius.
    expectWithin(hit.peak, impulseForce(200, 25, 5000, 4e5, 20), { relative: 0.015 });
    expectWithin(-hit.force[0] / hit.force[1], Math.tan(Math.acos(1 - 25 / 200)), { relative: 0.03 });
  });
  it('is never above the impulse of the hub plus what rests on it, for a soft tyre and equal mass both ways', () => {
    for (const height of [5, 15, 30, 60])
      for (const speed of [2000, 5000, 8000]) {
        const { peak } = tyreOnStep(step({ height, speed, mobility: isotropic(30) }));
        expect(peak, `${height} mm at ${speed} mm/s`).toBeLessThan(impulseForce(200, height, speed, 130, 30) + 2 * 475);
      }
  });
  it('grows with height and speed and shrinks with the wheel', () => {
    const peak = (change: Partial<StepInput>) => tyreOnStep(step(change)).peak;
    expect(peak({ height: 35 })).toBeGreaterThan(peak({}) * 1.1);
    expect(peak({ speed: 7000 })).toBeGreaterThan(peak({}) * 1.02);
    expect(peak({ radius: 340 })).toBeLessThan(peak({}) * 0.95);
  });
  it('is stiffer once the tyre meets its rim, and says so', () => {
    const pinched = tyreOnStep(step({ height: 40, tyre: { stiffness: 130, stroke: 20, rim: 1000 } }));
    expect(pinched.bottomed).toBe(true);
    expect(pinched.peak).toBeGreaterThan(1.2 * tyreOnStep(step({ height: 40 })).peak);
    expectWithin(
      pinched.peak,
      tyreOnStep(step({ height: 40, tyre: { stiffness: 130, stroke: 20, rim: 1000 } }), 960).peak,
      {
        relative: 1e-3,
      },
    );
  });
  it('stops before a high step when slow, and refuses one as high as the hub', () => {
    expect(tyreOnStep(step({ height: 90, speed: 400 })).climbed).toBe(false);
    expect(tyreOnStep(step({})).climbed).toBe(true);
    expect(() => tyreOnStep(step({ height: 200 }))).toThrow('not below the hub');
    expect(() => tyreOnStep(step({ speed: Number.NaN }))).toThrow(RangeError);
  });
});

describe('inertia behind a hub', () => {
  it('two masses on a level bar: a vertical force at one end moves its mass alone', () => {
    const bar = [
      { node: 0, mass: 3, at: [0, 0, 0] as const },
      { node: 1, mass: 5, at: [1000, 0, 0] as const },
      { node: 2, mass: 1e-6, at: [500, 0, 300] as const },
    ];
    const { zz, xz } = mobilityAt(bar, [0, 0, 0]);
    expectWithin(zz, 1 / 3, { relative: 1e-6 });
    expectWithin(xz, 0, { absolute: 1e-6 });
  });
  it('inertia forces balance what causes them', () => {
    const push = [{ node: 0, force: [-300, 20, 900] as const, moment: [0, 0, 0] as const }];
    const relief = inertiaRelief(RIDE.structure, push, RIDE.lumps);
    const sum = [0, 1, 2].map((k) => [...relief, ...push].reduce((s, load) => s + load.force[k]!, 0));
    for (const v of sum) expectWithin(v, 0, { absolute: ROUNDOFF * 900 });
  });
  it('refuses masses on one line, which cannot answer a moment about it', () => {
    const line = [0, 100, 300].map((x) => ({ node: 0, mass: 2, at: [x, 0, 0] as const }));
    expect(() => rigidAcceleration(line, [0, 0, 1], [0, 0, 0])).toThrow('on one line');
  });
});

describe('a landing', () => {
  it('on hard tyres under a light bicycle the rider is a mass stopped on a spring', () => {
    const hard = { stiffness: 1e4, stroke: 1e6, rim: 1e4 };
    const { riderMost } = landOnTyres({ height: 100, bicycle: 0.05, rider: 110, tyre: hard, legs: 20 });
    const weight = 110 * G;
    // Legs and two tyres in series are softer by 20/20000; half of that shows in the force, and the light bicycle jumps.
    expectWithin(riderMost.rider, weight * (1 + Math.sqrt(1 + (2 * 100 * 20) / weight)), { relative: 2e-3 });
  });
  it('without a rider worth mentioning the bicycle is a mass stopped on its tyres', () => {
    const { tyresMost } = landOnTyres({ height: 60, bicycle: 18, rider: 0.01, tyre: SOFT, legs: 0.5 });
    const weight = 18.01 * G;
    // Some 55 steps a period of the tyres: a sampled peak is low by up to 1 − cos(π/55) = 1.6e-3.
    expectWithin(tyresMost.tyres, weight * (1 + Math.sqrt(1 + (2 * 60 * 260) / weight)), { relative: 2e-3 });
  });
  it('ends, and says when a tyre has bottomed', () => {
    const tyre = { stiffness: 130, stroke: 15, rim: 1000 };
    const result = landOnTyres({ height: 200, bicycle: 18, rider: 110, tyre, legs: 20 });
    expect(result).toMatchObject({ finished: true, bottomed: true });
    expect(() => landOnTyres({ height: 0, bicycle: 18, rider: 110, tyre, legs: 20 })).toThrow(RangeError);
  });
});

describe('permanent set by energy', () => {
  const blow = { energy: 39_717, weight: 0, stiffness: 100, firstYield: 2000, collapse: 2500 };
  it('is none while the structure stays elastic', () => {
    const soft = plasticBlow({ ...blow, energy: 15_000 });
    expect(soft).toMatchObject({ elastic: true, set: [0, 0] });
    expectWithin(soft.peakForce, Math.sqrt(2 * 15_000 * 100), { relative: ROUNDOFF });
    expectWithin(soft.firstYieldEnergy, 20_000, { relative: ROUNDOFF });
  });
  it('takes up what the elastic part leaves: F²/2k + F s = E', () => {
    const { set, elastic } = plasticBlow(blow);
    expect(elastic).toBe(false);
    expectWithin(2500 ** 2 / 200 + 2500 * set[0], 39_717, { relative: ROUNDOFF });
    expectWithin(2000 ** 2 / 200 + 2000 * set[1], 39_717, { relative: ROUNDOFF });
    expect(set[0]).toBeLessThan(set[1]);
  });
  it('counts the work of a weight that keeps pressing, and every drop', () => {
    const weight = 22.5 * G;
    const { set } = plasticBlow({ ...blow, weight });
    const way = 2500 / 100 + set[0];
    expectWithin(2500 ** 2 / 200 + 2500 * set[0], 39_717 + weight * way, { relative: ROUNDOFF });
    expectWithin(plasticBlow({ ...blow, drops: 2 }).set[1], 2 * plasticBlow(blow).set[1], { relative: ROUNDOFF });
    // A weight laid on suddenly, without fall, doubles.
    expectWithin(forceOfEnergy(0, 100, weight), 2 * weight, { relative: ROUNDOFF });
  });
  it('refuses a structure that the resting weight yields, and a hinge before first yield', () => {
    expect(() => plasticBlow({ ...blow, weight: 2000 })).toThrow('resting weight');
    expect(() => plasticBlow({ ...blow, collapse: 1999 })).toThrow('collapse is too low');
    expect(() => plasticBlow({ ...blow, stiffness: 0 })).toThrow(RangeError);
  });
});

describe('the spectrum of a life', () => {
  it('counts events over the distance; an urban life has some millions of strokes', () => {
    const events = useSpectrum().filter((event) => event.case === 'stroke');
    const strokes = { count: events.reduce((sum, event) => sum + event.count, 0) };
    expect(strokes.count).toBe(190 * 20_000);
    // Two pushes a turn: 7.6 million against the 7 to 8 million of 20 000 km at 350 to 400 pushes a km.
    expect(2 * strokes.count).toBeGreaterThan(7e6);
    expect(2 * strokes.count).toBeLessThan(8e6);
  });
  it('takes edits and refuses what it does not know', () => {
    const kerbs = useSpectrum({ distance: 1000, kerbs: 2 }).find((event) => event.key === 'kerbs')!;
    expect(kerbs.count).toBe(2000);
    expect(() => useSpectrum({ curbs: 2 })).toThrow('no figure "curbs"');
    expect(() => useSpectrum({ distance: -1 })).toThrow(RangeError);
  });
});
