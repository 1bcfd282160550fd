import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import {
  type Cam,
  closeLatch,
  handleTravel,
  inSeries,
  openingMoment,
  pastCentre,
  plungerPreload,
  preloadFromHand,
  type Screw,
  screwArm,
  type Toggle,
  type Wedge,
  wedgeIn,
  wedgeOut,
} from './mechanism.ts';

const DEG = Math.PI / 180;
const ROUNDOFF = { relative: 1e-12 };
/** Simpson's rule, 64 steps, on a smooth moment: observed below 1e-7. */
const SIMPSON = { relative: 1e-6 };
/** Where past centre cuts the closing moment off at zero the integrand has a corner: observed below 1e-3. */
const SIMPSON_CORNER = { relative: 2e-3 };

const toggle: Toggle = {
  kind: 'toggle',
  form: 'draw',
  lever: 110,
  crank: 9,
  link: 30,
  past: 4 * DEG,
  pinRadius: 2.5,
  friction: 0,
  stack: 9000,
};
const cam: Cam = {
  kind: 'cam',
  lever: 70,
  eccentricity: 1.2,
  radius: 8,
  past: 0,
  pinRadius: 3,
  friction: 0,
  stack: 12000,
};
const screw: Screw = {
  kind: 'screw',
  lever: 60,
  pitch: 1,
  pitchDiameter: 5.35,
  headDiameter: 7.8,
  friction: 0.12,
  stack: 15000,
};
const wedge: Wedge = { kind: 'wedge', ratio: 8, angle: 7 * DEG, friction: 0.12, stack: 20000 };

describe('a toggle', () => {
  it('without friction takes from the hand just what the stack stores', () => {
    for (const form of ['draw', 'spread'] as const) {
      const m = { ...toggle, form, past: 0 };
      const f = closeLatch(m, 2500);
      expectWithin(f.work, (2500 * 2500) / (2 * m.stack), SIMPSON, form);
      const over = closeLatch({ ...m, past: 4 * DEG }, 2500);
      expectWithin(over.work, (over.peak * over.peak) / (2 * m.stack), SIMPSON_CORNER, form);
    }
  });

  it('moves as its links say: the travel closes the triangle of crank, link and stack', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<Toggle['form']>('draw', 'spread'),
        fc.double({ min: -0.6, max: 1.2, noNaN: true }),
        (form, phi) => {
          const m = { ...toggle, form };
          const { travel, slope } = handleTravel(m, phi);
          const x = form === 'draw' ? m.link - m.crank + travel : m.link + m.crank - travel;
          const along = form === 'draw' ? -m.crank * Math.cos(phi) : m.crank * Math.cos(phi);
          const up = m.crank * Math.sin(phi);
          expectWithin(Math.sqrt((x - along) * (x - along) + up * up), m.link, ROUNDOFF, { form, phi });
          const h = 1e-6;
          const difference = (handleTravel(m, phi + h).travel - handleTravel(m, phi - h).travel) / (2 * h);
          // Central difference of millimetres over 2e-6 rad: rounding 1e-14/1e-6, curvature term h².
          expectWithin(slope, difference, { absolute: 1e-7 });
        },
      ),
    );
  });

  it('of equal links near its dead centre gains (L/a)/(2 tan φ) when spread', () => {
    const m = { ...toggle, form: 'spread' as const, crank: 20, link: 20 };
    const phi = 0.5 * DEG;
    const gain = m.lever / handleTravel(m, phi).slope;
    // The printed rule is the small-angle limit: 2 tan φ against 2 sin φ.
    expectWithin(gain, m.lever / m.crank / (2 * Math.tan(phi)), { relative: 1e-4 });
  });

  it('is tightest at dead centre and holds itself only past it', () => {
    const f = closeLatch(toggle, 2500);
    expect(f.peak).toBeGreaterThan(f.preload);
    expectWithin(f.peak - f.preload, toggle.stack * handleTravel(toggle, toggle.past).travel, { relative: 1e-9 });
    expect(f.heldWithoutFriction).toBe(true);
    const short = closeLatch({ ...toggle, past: -4 * DEG }, 2500);
    expect(short.heldWithoutFriction).toBe(false);
    expect(short.heldByFriction).toBe(false);
    expect(short.reopenForce).toBe(0);
  });

  it('reopens without friction at the force of its stop, F·dr/dφ over the lever, or harder further in', () => {
    const f = closeLatch(toggle, 2500);
    const stop = (2500 * -handleTravel(toggle, -toggle.past).slope) / toggle.lever;
    expect(f.reopenForce).toBeGreaterThanOrEqual(stop * (1 - 1e-12));
    // Over 4° the clamping force grows by a few per cent while the slope falls to 0: the stop itself is the hardest place.
    expectWithin(f.reopenForce, stop, { relative: 1e-9 });
  });

  it('with friction costs more to close and to open, and sticks about its dead centre', () => {
    const dry = { ...toggle, friction: 0.15 };
    const [a, b] = [closeLatch(toggle, 2500), closeLatch(dry, 2500)];
    expect(b.handForce).toBeGreaterThan(a.handForce);
    expect(b.reopenForce).toBeGreaterThan(a.reopenForce);
    expect(a.sticks).toBe(0);
    expect(b.sticks).toBeGreaterThan(0);
    const { slope, friction } = handleTravel(dry, b.sticks);
    expectWithin(slope, friction, { relative: 1e-9 });
    // The friction circle of a nearly folded toggle: μ·r·(1 + |1 − a/b| + a/b) = 2 μ r against a(1 − a/b) φ.
    expectWithin(b.sticks, (2 * 0.15 * 2.5) / (9 * (1 - 9 / 30)), { relative: 0.02 });
  });

  it('makes the preload from the hand force and the hand force from the preload', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(toggle, { ...toggle, form: 'spread' as const, friction: 0.15 }, cam, screw, wedge),
        fc.double({ min: 200, max: 6000, noNaN: true }),
        (m, preload) => {
          const { handForce } = closeLatch(m, preload);
          expectWithin(preloadFromHand(m, handForce), preload, { relative: 1e-9 }, { m, preload });
        },
      ),
    );
  });

  it('refuses travel that it does not have', () => {
    expect(() => closeLatch({ ...cam, eccentricity: 0.05 }, 5000)).toThrow(/travel/);
    expect(() => closeLatch({ ...toggle, link: 8 }, 100)).toThrow(/longer/);
  });
});

describe('a cam lever', () => {
  it('without friction takes what the stack stores, with friction what sliding wastes as well', () => {
    expectWithin(closeLatch(cam, 3000).work, (3000 * 3000) / (2 * cam.stack), SIMPSON);
    expect(closeLatch({ ...cam, friction: 0.1 }, 3000).work).toBeGreaterThan(1.5 * closeLatch(cam, 3000).work);
  });

  it('holds by friction alone even short of its dead centre, as a small eccentricity does', () => {
    const f = closeLatch({ ...cam, friction: 0.15, past: -8 * DEG }, 3000);
    expect(f.heldWithoutFriction).toBe(false);
    expect(f.heldByFriction).toBe(true);
    expect(f.reopenForce).toBeGreaterThan(0);
  });
});

describe('a screw and a wedge', () => {
  it('without friction give back all work', () => {
    const s = closeLatch({ ...screw, friction: 0 }, 4000);
    expectWithin(s.work, (4000 * 4000) / (2 * screw.stack), ROUNDOFF);
    const w = closeLatch({ ...wedge, friction: 0 }, 4000);
    expectWithin(w.work, (4000 * 4000) / (2 * wedge.stack), ROUNDOFF);
  });

  it('lock themselves where friction exceeds pitch or taper, and not otherwise', () => {
    expect(closeLatch(screw, 4000).heldByFriction).toBe(true);
    expect(closeLatch({ ...screw, friction: 0.01 }, 4000).heldByFriction).toBe(false);
    expect(closeLatch(wedge, 4000).heldByFriction).toBe(true);
    expect(closeLatch({ ...wedge, angle: 20 * DEG }, 4000).heldByFriction).toBe(false);
    expect(closeLatch({ ...wedge, angle: 20 * DEG }, 4000).reopenForce).toBe(0);
  });

  it('lose to friction between tightening and loosening what twice the friction arm says', () => {
    expectWithin(screwArm(screw, 1) + screwArm(screw, -1), 2 * 0.12 * (5.35 / Math.sqrt(3) + 7.8 / 2), ROUNDOFF);
    // For small friction the wedge's ways in and out differ by 4 tan ρ to first order.
    expectWithin(wedgeIn(0.1, 1e-6) + wedgeOut(0.1, 1e-6), 4e-6, { relative: 0.02 });
  });
});

describe('a spring plunger', () => {
  const plunger = { kind: 'plunger', spring: 20, rate: 2, stroke: 9, nose: 0, friction: 0.12, stack: 8000 } as const;
  it('straight makes no preload; tapered it wedges', () => {
    expect(plungerPreload(plunger)).toBe(0);
    expectWithin(closeLatch(plunger, 0).handForce, 38, ROUNDOFF);
    expect(() => closeLatch(plunger, 500)).toThrow(/no preload/);
    const nosed = { ...plunger, nose: 8 * DEG };
    expectWithin(plungerPreload(nosed) * wedgeIn(8 * DEG, 0.12), 20, ROUNDOFF);
  });
});

describe('the opening of a face', () => {
  it('is preload times arm, less what pulls on it, and never negative', () => {
    expect(openingMoment(2500, 40)).toBe(100_000);
    expect(openingMoment(2500, 40, 500, 40)).toBe(80_000);
    expect(openingMoment(100, 40, 500, 40)).toBe(0);
    expectWithin(openingMoment(2500, 40, 0, 40, 0.1), 110_000, ROUNDOFF);
  });
  it('adds springs in series', () => {
    expectWithin(inSeries(100, 100), 50, { relative: 4 * EPS });
  });
  it('asks 5° past centre, takes 2°', () => {
    expect([6, 3, 1, -1].map((d) => pastCentre(d * DEG))).toEqual(['enough', 'little', 'none', 'none']);
  });
});
