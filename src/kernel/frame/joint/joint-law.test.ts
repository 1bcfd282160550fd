import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import type { JointLaw } from '../structure.ts';
import { isLinearLaw, lawForce, lawMotion, lawSegments, segmentAt, summariseLaw } from './joint-law.ts';

const ROUNDOFF = { relative: 64 * EPS, absolute: 1e-12 };
/** Differences of forces of up to 1e6 N·mm in tangents: the rounding of the constant term. */
const DIFFERENCE = { relative: 1e-6, absolute: 1e-6 };

const laws: fc.Arbitrary<JointLaw> = fc.record(
  {
    closed: fc.double({ min: 10, max: 1e6, noNaN: true }),
    open: fc.oneof(fc.constant(0), fc.double({ min: 1, max: 1e6, noNaN: true })),
    opens: fc.constantFrom(-1, 0, 1),
    preload: fc.constantFrom(0, 1, 250, 2500),
    play: fc.constantFrom(0, 1e-3, 0.05, 1),
  },
  { requiredKeys: ['closed'] },
);

describe('a joint law', () => {
  it('has two slopes without preload where the face opens to one side', () => {
    const law: JointLaw = { closed: 1000, open: 200, opens: 1 };
    expectWithin(lawForce(law, -0.5), -500, ROUNDOFF);
    expectWithin(lawForce(law, 0.5), 100, ROUNDOFF);
    expect(isLinearLaw(law)).toBe(false);
    expect(lawSegments(law).map((s) => s.branch)).toEqual(['closed', 'open']);
  });

  it('keeps its closed slope up to the preload and opens beyond it', () => {
    const law: JointLaw = { closed: 1000, open: 200, opens: 1, preload: 300 };
    expectWithin(lawForce(law, 0.3), 300, ROUNDOFF);
    expectWithin(lawForce(law, 0.2), 200, ROUNDOFF);
    expectWithin(lawForce(law, 0.8), 300 + 0.5 * 200, ROUNDOFF);
    expectWithin(lawForce(law, -5), -5000, ROUNDOFF);
    expectWithin(lawMotion(law, 400), 0.8, ROUNDOFF);
  });

  it('opens to both sides where no side is named', () => {
    const law: JointLaw = { closed: 1000, open: 200, opens: 0, preload: 300 };
    for (const x of [0.1, 0.3, 0.7, 2]) expectWithin(lawForce(law, -x), -lawForce(law, x), ROUNDOFF);
    expect(lawSegments(law).map((s) => s.branch)).toEqual(['open', 'closed', 'open']);
  });

  it('shows its play without preload on both sides of rest', () => {
    const law: JointLaw = { closed: 1000, play: 0.05 };
    expect(lawForce(law, 0.025)).toBe(0);
    expect(lawForce(law, -0.025)).toBe(0);
    expectWithin(lawForce(law, 0.125), 100, ROUNDOFF);
    expectWithin(lawMotion(law, 100), 0.125, ROUNDOFF);
    expectWithin(lawMotion(law, 100) - lawMotion(law, -100), 0.05 + 2 * 0.1, ROUNDOFF);
  });

  it('hides its play under preload until the face has opened, then loses all of it on the side that opens', () => {
    const law: JointLaw = { closed: 1000, open: 200, opens: -1, preload: 300, play: 0.05 };
    expectWithin(lawForce(law, -0.3), -300, ROUNDOFF);
    expectWithin(lawForce(law, -0.32), -300, ROUNDOFF);
    expectWithin(lawForce(law, -0.45), -320, ROUNDOFF);
    expectWithin(lawForce(law, 0.45), 450, ROUNDOFF);
    expectWithin(lawMotion(law, -300.2) - lawMotion(law, -299.8), -0.05 - 0.2 / 200 - 0.2 / 1000, {
      absolute: 1e-12,
    });
  });

  it('is proportional where nothing can open and nothing is loose', () => {
    expect(isLinearLaw({ closed: 5, preload: 100 })).toBe(true);
    expect(isLinearLaw({ closed: 0, open: 3, play: 1 })).toBe(true);
    expect(isLinearLaw({ closed: 5, open: 5 })).toBe(true);
    expect(isLinearLaw({ closed: 5, open: 5, opens: 1, preload: 9 })).toBe(true);
    expect(isLinearLaw({ closed: 5, play: 0.1 })).toBe(false);
    // Open to both sides from the start: a straight line, but not that of the closed joint.
    expect(isLinearLaw({ closed: 5, open: 1 })).toBe(false);
  });

  it('tells both slopes, the lost motion and what opens it', () => {
    expect(summariseLaw({ closed: 5, open: 1, opens: 1, preload: 9, play: 0.2 })).toEqual({
      closed: 5,
      open: 1,
      lostMotion: 0.2,
      opensAt: 9,
    });
    expect(summariseLaw({ closed: 5, preload: 9 }).opensAt).toBe(Number.POSITIVE_INFINITY);
  });

  it('says that nothing resists where nothing is left', () => {
    expect(lawMotion({ closed: 10, open: 0, opens: 1, preload: 5 }, 6)).toBe(Number.POSITIVE_INFINITY);
    expect(lawMotion({ closed: 0 }, -1)).toBe(Number.NEGATIVE_INFINITY);
  });

  it('refuses what is no stiffness', () => {
    for (const law of [{ closed: -1 }, { closed: Number.NaN }, { closed: 1, play: -1 }, { closed: Infinity }])
      expect(() => lawSegments(law)).toThrow(RangeError);
  });

  it('is made of segments that cover every motion and meet in force', () => {
    fc.assert(
      fc.property(laws, (law) => {
        const segments = lawSegments(law);
        expect(segments[0]!.from).toBe(Number.NEGATIVE_INFINITY);
        expect(segments.at(-1)!.to).toBe(Number.POSITIVE_INFINITY);
        for (let i = 1; i < segments.length; i++) {
          const [a, b] = [segments[i - 1]!, segments[i]!];
          expect(a.to).toBe(b.from);
          const scale = Math.abs(b.constant) + Math.abs(a.constant) + 1;
          expectWithin(
            b.tangent * b.from + b.constant,
            a.tangent * a.to + a.constant,
            { absolute: 1e-10 * scale },
            law,
          );
        }
      }),
    );
  });

  it('never gives less force for more motion, and its tangent is the slope of its force', () => {
    fc.assert(
      fc.property(
        laws,
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (law, x, dx) => {
          expect(lawForce(law, x + dx)).toBeGreaterThanOrEqual(lawForce(law, x) - 1e-6);
          const segments = lawSegments(law);
          const s = segments[segmentAt(segments, x)]!;
          const h = 1e-6;
          if (x - h > s.from && x + h < s.to)
            expectWithin((lawForce(law, x + h) - lawForce(law, x - h)) / (2 * h), s.tangent, {
              relative: DIFFERENCE.relative,
              absolute: 1e-3,
            });
        },
      ),
    );
  });

  it('gives back the force from the motion that the force makes', () => {
    fc.assert(
      fc.property(laws, fc.double({ min: -5000, max: 5000, noNaN: true }), (law, f) => {
        const x = lawMotion(law, f);
        if (Number.isFinite(x)) expectWithin(lawForce(law, x), f, { relative: 1e-9, absolute: 1e-7 }, { law, f });
        else expect((law.open ?? 0) === 0).toBe(true);
      }),
    );
  });
});
