import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { COARSE_PITCH, metricThread, preloadFromTorque, tighteningArm, tighteningStress } from './bolt.ts';
import { boltedJoint, boltStiffness, clampedStiffness } from './bolted-joint.ts';
import { clampHold, slipUse, slitCollarForce } from './clamp.ts';
import { dummyForkRatio, dummyForkStiffness } from './dummy-fork.ts';
import { lugByCurves, lugByHand, lugOblique } from './lug.ts';
import { pinStress, pinUse } from './pin.ts';
import { CheckRefusal } from './refusal.ts';

const EXACT = 1e-12;

describe('lug', () => {
  const lug = { hole: 10, width: 24, thickness: 6, edge: 13, Ftu: 260 };
  it('gives where the least metal is', () => {
    expect(lugByHand(lug).governs).toBe('shear_out');
    expect(lugByHand({ ...lug, width: 17 }).governs).toBe('net_tension');
    expect(lugByHand({ ...lug, edge: 30, width: 40 }).governs).toBe('bearing');
  });
  it('tells when its geometry is out of range', () => {
    expect(lugByHand(lug).outside).toEqual([]);
    expect(lugByHand({ ...lug, edge: 9, width: 14, thickness: 12 }).outside).toHaveLength(3);
  });
  it('with efficiencies of one and a far edge is bearing at F_tux and full net tension', () => {
    const s = lugByCurves({ ...lug, edge: 20 }, { Kbru: 1, Kt: 1, Ftux: 250 });
    expect([s.shearBearing, s.netTension]).toEqual([15_000, 21_840]);
    // Below e/D = 1.5 the reach (e − D/2)/D scales it
    expectWithin(lugByCurves(lug, { Kbru: 1, Kt: 1, Ftux: 250 }).shearBearing, 12_000, { relative: EXACT });
    expectWithin(lugByCurves({ ...lug, edge: 20 }, { Kbru: 2, Kt: 1, Ftux: 250, Fbry: 300 }).shearBearing, 23_472, {
      relative: EXACT,
    });
    expect(lugByCurves(lug, { Kbru: 1, Kt: 1, Ftux: 250, elongation: 3 }).outside).toHaveLength(1);
  });
  it('under an oblique load is worse than under its parts, and the same along one axis', () => {
    expectWithin(lugOblique(0.6, 0), 0.6, { relative: EXACT });
    expectWithin(lugOblique(0.5, 0.5), 0.5 * 2 ** 0.625, { relative: EXACT });
  });
  it('refuses a hole that leaves no metal', () => {
    expect(() => lugByHand({ ...lug, width: 10 })).toThrow(CheckRefusal);
    expect(() => lugByHand({ ...lug, edge: 5 })).toThrow(/edge/);
  });
});

describe('pin in double shear', () => {
  const size = fc.record({
    load: fc.double({ min: 100, max: 20_000, noNaN: true }),
    diameter: fc.double({ min: 4, max: 20, noNaN: true }),
    outer: fc.double({ min: 2, max: 12, noNaN: true }),
    inner: fc.double({ min: 2, max: 20, noNaN: true }),
    gap: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  it('has the moment of evenly loaded plates, as the Eurocode writes it', () => {
    fc.assert(
      fc.property(size, (p) => {
        const s = pinStress(p);
        expectWithin(s.moment, (p.load * (p.inner + 4 * p.gap + 2 * p.outer)) / 8, { relative: EXACT }, p);
        expectWithin(s.bearingInner * p.diameter * p.inner, p.load, { relative: EXACT }, p);
        expectWithin(2 * s.bearingOuter * p.diameter * p.outer, p.load, { relative: EXACT }, p);
      }),
    );
  });
  it('is used in proportion to the load, the interaction in proportion to its square', () => {
    const metal = { Fyp: 640, Fup: 800, Fy: 240 };
    fc.assert(
      fc.property(size, (p) => {
        const one = pinUse(p, metal);
        const two = pinUse({ ...p, load: 2 * p.load }, metal);
        expectWithin(two.bending, 2 * one.bending, { relative: EXACT });
        expectWithin(two.combined, 4 * one.combined, { relative: EXACT });
        expect(one.use).toBeGreaterThanOrEqual(one.bearing);
      }),
    );
  });
  it('gets stiffer and lighter together only up to a point: a bore costs stress', () => {
    const p = { load: 6000, diameter: 8, outer: 4, inner: 8, gap: 0.25 };
    const hollow = pinStress({ ...p, bore: 4 });
    expectWithin(hollow.bending / pinStress(p).bending, 1 / (1 - 1 / 16), { relative: EXACT });
    expectWithin(hollow.shear / pinStress(p).shear, 4 / 3, { relative: EXACT });
    expect(() => pinStress({ ...p, bore: 8 })).toThrow(CheckRefusal);
    expect(() => pinStress({ ...p, gap: -0.1 })).toThrow(CheckRefusal);
  });
});

describe('bolts', () => {
  it('without friction turn all work into stretch: T·2π = F·p', () => {
    const t = metricThread(6, 1);
    expectWithin(preloadFromTorque(t, 9000, { thread: 0, head: 0 }), 9000 * 2 * Math.PI, { relative: EXACT });
  });
  it('split the torque into parts that sum to it, about a tenth of it useful', () => {
    for (const [name, p] of Object.entries(COARSE_PITCH)) {
      const t = metricThread(Number(name.slice(1)), p);
      const arm = tighteningArm(t, { thread: 0.14, head: 0.14 });
      expectWithin(arm.pitch + arm.thread + arm.head, arm.total, { relative: EXACT });
      expect(arm.pitch / arm.total).toBeGreaterThan(0.08);
      expect(arm.pitch / arm.total).toBeLessThan(0.15);
      expect(t.d3 < t.d2 && t.d2 < t.diameter).toBe(true);
    }
  });
  it('feel more while being tightened than afterwards', () => {
    const t = metricThread(6, 1);
    const sigma = 9000 / t.stressArea;
    const ratio = tighteningStress(t, 9000, { thread: 0.12, head: 0.12 }) / sigma;
    expect(ratio).toBeGreaterThan(1.15);
    expect(ratio).toBeLessThan(1.35);
  });
  it('refuse a thread deeper than the bolt and negative friction', () => {
    expect(() => metricThread(4, 3)).toThrow(/coarse/);
    expect(() => tighteningArm(metricThread(6, 1), { thread: -0.1, head: 0.1 })).toThrow(CheckRefusal);
  });
});

describe('bolted joint', () => {
  const t = metricThread(6, 1);
  const joint = {
    preload: 8000,
    bolt: boltStiffness(t, 205_000, 10, 10),
    clamped: clampedStiffness(6, 70_000, 20),
  };
  it('balances the load between bolt and faces at every pull', () => {
    for (const load of [-5000, 0, 3000, 7999, 20_000]) {
      const s = boltedJoint(joint, load);
      expectWithin(s.boltForce - s.faceForce, load, { absolute: 1e-9 });
      expect(s.faceForce).toBeGreaterThanOrEqual(0);
    }
  });
  it('parts where the faces’ force is gone, without a step in the bolt', () => {
    const { opensAt, share } = boltedJoint(joint, 0);
    expect(share).toBeGreaterThan(0);
    expect(share).toBeLessThan(1);
    expectWithin(boltedJoint(joint, opensAt * (1 - 1e-9)).boltForce, opensAt, { relative: 1e-8 });
    expect(boltedJoint(joint, opensAt).open).toBe(true);
    // Load that comes in at the faces does not reach the bolt before they part
    expectWithin(boltedJoint({ ...joint, n: 0 }, 4000).boltForce, 8000, { relative: EXACT });
  });
  it('with a slender bolt between stout parts feels little', () => {
    const slender = boltedJoint({ ...joint, bolt: boltStiffness(t, 205_000, 60, 10) }, 3000);
    expect(slender.share).toBeLessThan(boltedJoint(joint, 3000).share);
  });
});

describe('clamp', () => {
  const hold = clampHold({ force: 10_000, diameter: 30, length: 20, friction: 0.15 });
  it('holds between two lines and even pressure, torque = push × radius', () => {
    expectWithin(hold.torqueMost / hold.torqueLeast, Math.PI / 2, { relative: EXACT });
    expectWithin(hold.torqueLeast, hold.pushLeast * 15, { relative: EXACT });
    expectWithin(hold.torqueMost, hold.pushMost * 15, { relative: EXACT });
    // Even pressure integrated: μ p · area · radius
    expectWithin(hold.torqueMost, 0.15 * hold.pressure * Math.PI * 30 * 20 * 15, { relative: EXACT });
  });
  it('slips on the circle of torque and push', () => {
    expectWithin(slipUse(hold, 0.6 * hold.torqueLeast, -0.8 * hold.pushLeast), 1, { relative: EXACT });
  });
  it('as a thin slit collar presses with twice its bolt', () => {
    expect(slitCollarForce(5000, 15, 15)).toBe(10_000);
  });
});

describe('dummy fork', () => {
  it('at the least stiffness meets the ratio at any length', () => {
    for (const use of ['fatigue', 'impact'] as const)
      for (const L of [380, 460, 520]) {
        const deflection = (1200 * L * L * L) / (3 * dummyForkStiffness(use));
        expectWithin(dummyForkRatio(L, deflection, use), 1, { relative: EXACT });
      }
  });
});
