import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { norm, sub, type Vec3 } from '../math/rigid.ts';
import { bodyLinks, inseam, type Rider, SADDLE_RULE } from './body-links.ts';
import { SEGMENT_COUNT, type SegmentName, type Sex, segmentTable } from './de-leva.ts';
import { saddleForRider } from './saddle.ts';
import { type ContactPoints, seatRider } from './seat.ts';
import { twoLink } from './two-link.ts';

const DEG = Math.PI / 180;
const CRANK: Vec3 = [0.42, 0, 0.29];
const UP: Vec3 = [-0.3090169943749474, 0, 0.9510565162951535];
const POST = { saddle: [0.2, 0, 0.9] as Vec3, crank: CRANK, up: UP, range: [-0.25, 0.25] as const };
const bicycle = (saddle: Vec3): ContactPoints => ({
  saddle,
  gripLeft: [0.75, 0.28, 1.08],
  gripRight: [0.75, -0.28, 1.08],
  crank: CRANK,
  crankLength: 0.165,
});
const seated = (rider: Rider) => seatRider(rider, bicycle(saddleForRider(rider, POST).saddle));
const rider = fc.record({
  stature: fc.double({ min: 1.5, max: 1.95, noNaN: true }),
  mass: fc.double({ min: 45, max: 110, noNaN: true }),
  sex: fc.constantFrom<Sex>('male', 'female', 'mixed'),
});

describe('a seated rider', () => {
  it('weighs what the rider weighs, in fourteen segments, each with a sound inertia', () => {
    fc.assert(
      fc.property(rider, (r) => {
        const s = seated(r);
        expectWithin(s.rigid.mass, r.mass, { relative: 1e-13 });
        expect(s.segments).toHaveLength(14);
        for (const g of s.segments) {
          const [a, b, c] = g.rigid.inertia;
          expect(Math.min(a + b - c, a + c - b, b + c - a), g.name).toBeGreaterThan(0);
        }
      }),
      { numRuns: 60, seed: 5 },
    );
  });
  it('keeps the lengths of thigh, shank, upper arm and trunk wherever it sits, and holds the grips', () => {
    fc.assert(
      fc.property(rider, (r) => {
        const s = seated(r);
        const l = bodyLinks(r);
        const length = (name: string): number => {
          const g = s.segments.find((x) => x.name === name)!;
          return norm(sub(g.to, g.from));
        };
        if (s.misfits.some((m) => m.code.endsWith('reach'))) return;
        for (const side of ['left', 'right']) {
          expectWithin(length(`thigh_${side}`), l.thigh, { relative: 1e-12 });
          expectWithin(length(`shank_${side}`), l.shank, { relative: 1e-12 });
          expectWithin(length(`upper_arm_${side}`), l.upperArm, { relative: 1e-12 });
        }
        expectWithin(length('trunk'), l.trunk, { relative: 1e-12 });
        const hand = s.segments.find((x) => x.name === 'hand_left')!;
        expectWithin(norm(sub(hand.to, bicycle([0, 0, 0]).gripLeft)), 0, { absolute: 1e-12 });
      }),
      { numRuns: 60, seed: 6 },
    );
  });
  it('is where the bicycle is: moved with it, the mass moves and its inertia stays', () => {
    const r: Rider = { stature: 1.72, mass: 75, sex: 'mixed' };
    const a = seatRider(r, bicycle([0.2, 0, 0.98]));
    const shift = (p: Vec3): Vec3 => [p[0] + 0.3, p[1], p[2] - 0.1];
    const p = bicycle([0.2, 0, 0.98]);
    const b = seatRider(r, {
      ...p,
      saddle: shift(p.saddle),
      gripLeft: shift(p.gripLeft),
      gripRight: shift(p.gripRight),
      crank: shift(p.crank),
    });
    expectWithin(b.rigid.com[0] - a.rigid.com[0], 0.3, { absolute: 1e-12 });
    expectWithin(b.rigid.com[2] - a.rigid.com[2], -0.1, { absolute: 1e-12 });
    for (let k = 0; k < 6; k++) expectWithin(b.rigid.inertia[k]!, a.rigid.inertia[k]!, { absolute: 1e-11 });
  });
  it('is as wide to the left as to the right but for its feet: the CoM stays within 5 mm of the mid-plane', () => {
    expect(Math.abs(seated({ stature: 1.8, mass: 80, sex: 'male' }).rigid.com[1])).toBeLessThan(0.005);
  });
  it('sits upright with its legs ahead and below: Ixz is positive with z up (negative in papers with z down)', () => {
    const upright = seatRider(
      { stature: 1.83, mass: 72, sex: 'male' },
      { ...bicycle([0.18, 0, 1.03]), gripLeft: [0.68, 0.28, 1.18], gripRight: [0.68, -0.28, 1.18] },
    );
    expect(upright.angles.trunk).toBeGreaterThan(75 * DEG);
    expect(upright.rigid.inertia[4]).toBeGreaterThan(0);
  });
  it('leans further for lower, farther grips, and reports grips that it cannot reach', () => {
    const r: Rider = { stature: 1.6, mass: 60, sex: 'female' };
    const saddle = saddleForRider(r, POST).saddle;
    const with_ = (x: number, z: number) =>
      seatRider(r, { ...bicycle(saddle), gripLeft: [x, 0.28, z], gripRight: [x, -0.28, z] });
    expect(with_(0.75, 0.95).angles.trunk).toBeLessThan(with_(0.65, 1.05).angles.trunk);
    expect(with_(0.75, 0.95).misfits.some((m) => m.code === 'grips.out_of_reach')).toBe(false);
    const far = with_(1.4, 0.9).misfits.find((m) => m.code === 'grips.out_of_reach')!;
    expect(far.value).toBeGreaterThan(0.1);
    // Grips in the lap: as upright as is comfortable, elbows bent beyond the range.
    const near = with_(0.4, 1.1);
    expect(near.angles.trunk).toBeLessThanOrEqual(85 * DEG + 1e-9);
    expect(near.misfits.some((m) => m.code === 'elbow.bent')).toBe(true);
  });
  it('reports a saddle too high for its legs and one too low', () => {
    const r: Rider = { stature: 1.7, mass: 70, sex: 'male' };
    const codes = (z: number) => seatRider(r, bicycle([0.2, 0, z])).misfits.map((m) => m.code);
    expect(codes(1.12)).toContain('knee.straight');
    expect(codes(0.8)).toContain('knee.bent');
    expect(codes(0.8)).toContain('knee.top');
  });
  it('refuses what is no rider', () => {
    expect(() => seatRider({ stature: 1.7, mass: 0, sex: 'male' }, bicycle([0.2, 0, 0.95]))).toThrow(RangeError);
    expect(() => seatRider({ stature: 170, mass: 70, sex: 'male' }, bicycle([0.2, 0, 0.95]))).toThrow(RangeError);
  });
});

describe('the saddle', () => {
  it('goes to 0.883 of the inseam from the crank when the post allows it', () => {
    fc.assert(
      fc.property(rider, (r) => {
        const s = saddleForRider(r, { ...POST, range: [-0.6, 0.6] });
        expect(s.limit).toBe('none');
        expectWithin(norm(sub(s.saddle, CRANK)), SADDLE_RULE * inseam(r).mean, { relative: 1e-12 });
        // Along the post only.
        expectWithin(norm(sub(s.saddle, POST.saddle)), Math.abs(s.raise), { absolute: 1e-12 });
      }),
      { numRuns: 50, seed: 4 },
    );
  });
  it('stops at the mark of minimum insertion, at the top and at the bottom of its travel, and says which', () => {
    const tall: Rider = { stature: 1.95, mass: 110, sex: 'male' };
    const short: Rider = { stature: 1.5, mass: 50, sex: 'female' };
    expect(saddleForRider(tall, { ...POST, range: [-0.2, 0.1] }).limit).toBe('highest');
    const marked = saddleForRider(tall, { ...POST, insertion: { now: 0.15, least: 0.08 } });
    expect(marked.limit).toBe('minimum insertion');
    expectWithin(marked.raise, 0.07, { absolute: 1e-15 });
    expect(marked.reached).toBeLessThan(marked.wanted);
    expect(saddleForRider(short, { ...POST, range: [0, 0.2] }).limit).toBe('lowest');
  });
});

describe('two links', () => {
  it('meet in the middle joint and say by how much they miss', () => {
    const t = twoLink([0, 0, 0], [0.7, 0.1, 0.2], 0.43, 0.4, [0, 0, -1]);
    expectWithin(norm(t.middle), 0.43, { relative: 1e-13 });
    expectWithin(norm(sub([0.7, 0.1, 0.2], t.middle)), 0.4, { relative: 1e-13 });
    const far = twoLink([0, 0, 0], [1, 0, 0], 0.43, 0.4, [0, 0, -1]);
    expectWithin(far.miss, 0.17, { absolute: 1e-15 });
    expect(far.flexion).toBe(0);
    expect(twoLink([0, 0, 0], [0.01, 0, 0], 0.43, 0.4, [0, 0, -1]).miss).toBeLessThan(0);
  });
});

it('the mixed rider lies between man and woman in every link and segment', () => {
  const at = (sex: Sex) => bodyLinks({ stature: 1.7, mass: 70, sex });
  for (const k of Object.keys(at('male')) as (keyof ReturnType<typeof at>)[])
    expectWithin(at('mixed')[k], (at('male')[k] + at('female')[k]) / 2, { relative: 1e-14 }, k);
  for (const name of Object.keys(SEGMENT_COUNT) as SegmentName[])
    expectWithin(
      segmentTable('mixed').rows[name].mass_percent,
      (segmentTable('male').rows[name].mass_percent + segmentTable('female').rows[name].mass_percent) / 2,
      { relative: 1e-14 },
    );
});
