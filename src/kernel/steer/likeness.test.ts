import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BENCHMARK as SAMPLE } from '../../../verification/steer/bicycles.ts';
import { headGeometry } from './geometry.ts';
import { gripLever } from './grips.ts';
import { likeness, similarity } from './likeness.ts';
import { type HandlingProfile, handlingProfile, PROFILE_OPTIONS } from './profile.ts';
import { type WhippleBicycle, whipple } from './whipple.ts';

function subject(bicycle: WhippleBicycle) {
  const { headAngle, trail, wheelbase, frontWheel } = bicycle;
  const cos = Math.cos(headAngle);
  const sin = Math.sin(headAngle);
  const steerer = { point: [wheelbase + trail, 0, 0] as const, axis: [-cos, 0, sin] as const };
  return {
    system: whipple(bicycle),
    geometry: headGeometry(frontWheel.radius, headAngle, frontWheel.radius * cos - trail * sin),
    lever: gripLever(steerer, [0.75, 0.28, 1]),
  };
}
const profile = (bicycle: WhippleBicycle): HandlingProfile => handlingProfile(subject(bicycle));
const reference = profile(SAMPLE);

describe('likeness', () => {
  it('is exactly 1 for the bicycle itself, bar by bar', () => {
    const self = likeness(reference, profile(SAMPLE));
    expect(self.value).toBe(1);
    expect(self.bars.every((bar) => bar.similarity === 1)).toBe(true);
    expect(self.notes).toEqual([]);
  });

  it('falls as trail moves away from the reference', () => {
    const values = [0.075, 0.06, 0.04, 0.02].map((trail) => likeness(reference, profile({ ...SAMPLE, trail })).value);
    for (let i = 1; i < values.length; i++) expect(values[i]!).toBeLessThan(values[i - 1]!);
    expect(values[0]!).toBeLessThan(1);
  });

  it('is symmetric and within 0 and 1 for any two bicycles, stable or not', () => {
    const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const made = fc
      .tuple(between(0.9, 1.2), between(-0.05, 0.15), between(1.05, 1.5), between(0.15, 0.35), between(40, 120))
      .map(([wheelbase, trail, headAngle, radius, mass]) => ({
        ...SAMPLE,
        wheelbase,
        trail,
        headAngle,
        frontWheel: { radius, mass: 2, Ixx: radius * radius, Iyy: 2 * radius * radius },
        rearBody: { ...SAMPLE.rearBody, mass },
      }));
    fc.assert(
      fc.property(made, made, (x, y) => {
        const a = profile(x);
        const b = profile(y);
        const there = likeness(a, b);
        const back = likeness(b, a);
        expect(there.value).toBe(back.value);
        for (const bar of there.bars) {
          expect(bar.similarity).toBeGreaterThanOrEqual(0);
          expect(bar.similarity).toBeLessThanOrEqual(1);
        }
      }),
      { numRuns: 40, seed: 3 },
    );
  });

  it('counts a weave speed that only one of the two has as unlike, and says so', () => {
    const none = profile({
      ...SAMPLE,
      frontWheel: { ...SAMPLE.frontWheel, Iyy: 0 },
      rearWheel: { ...SAMPLE.rearWheel, Iyy: 0 },
    });
    const found = likeness(reference, none);
    expect(found.bars.find((bar) => bar.id === 'stability.weave_speed')).toMatchObject({ b: null, similarity: 0 });
    expect(found.notes.join()).toContain('weave speed');
    expect(found.value).toBeGreaterThan(0);
  });

  it('keeps a bicycle that the rider cannot hold in the comparison, with a penalty and a note', () => {
    const lane = reference.lanes[0]!;
    const fallen: HandlingProfile = {
      ...reference,
      figures: reference.figures.map((f) => (f.group === 'lane' && f.speed === lane.speed ? { ...f, value: null } : f)),
      lanes: [
        {
          ...lane,
          stabilised: false,
          torque: new Float64Array(0),
          lean: new Float64Array(0),
          steer: new Float64Array(0),
        },
        ...reference.lanes.slice(1),
      ],
    };
    const found = likeness(reference, fallen);
    expect(found.value).toBeLessThan(1);
    expect(Number.isFinite(found.value)).toBe(true);
    expect(found.notes.some((note) => note.includes('cannot hold the second bicycle'))).toBe(true);
    expect(likeness(fallen, fallen).value).toBe(1);
  });

  it('refuses profiles made at different speeds', () => {
    const other = handlingProfile(subject(SAMPLE), { ...PROFILE_OPTIONS, speeds: [4] });
    expect(() => likeness(reference, other)).toThrow(expect.objectContaining({ path: 'options' }));
    const slow = handlingProfile(subject(SAMPLE), {
      ...PROFILE_OPTIONS,
      rider: { ...PROFILE_OPTIONS.rider, torque: 3 },
    });
    expect(() => likeness(reference, slow)).toThrow(expect.objectContaining({ path: 'options' }));
  });

  it('reads 0.8 as four fifths, forgives below the floor, and gives opposite signs nothing', () => {
    expect(similarity(8, 10, 0)).toBe(0.8);
    expect(similarity(0.01, -0.01, 1)).toBeGreaterThan(0.97);
    expect(similarity(5, -5, 1)).toBe(0);
    expect(similarity(null, null, 1)).toBe(1);
    expect(similarity(0, null, 1)).toBe(0);
  });
});
