import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import {
  beltWheel,
  CHAIN_PITCH,
  centresFor,
  chainWheel,
  lineAngle,
  loopAround,
  pitchesFor,
  pulley,
  sagOf,
  teethInMesh,
} from './loop.ts';

const ROUNDOFF = { relative: 32 * EPS };
const pairs = [
  [44, 13],
  [13, 44],
  [38, 19],
  [22, 22],
] as const;

describe('a loop round two wheels', () => {
  it('is as long seen from either wheel', () => {
    for (const [a, b] of pairs)
      for (const c of [0.25, 0.41, 0.6]) {
        const [there, back] = [
          loopAround(chainWheel(a), chainWheel(b), c),
          loopAround(chainWheel(b), chainWheel(a), c),
        ];
        expectWithin(there.length, back.length, ROUNDOFF, [a, b, c]);
        expect(there.wrap[0]).toBe(back.wrap[1]);
      }
  });
  it('grows with the distance by twice the cosine of the runs’ lean, and with either wheel', () => {
    for (const [a, b] of pairs) {
      const d = Math.abs(chainWheel(a).radius - chainWheel(b).radius);
      let before = loopAround(chainWheel(a), chainWheel(b), 0.2).length;
      for (let c = 0.21; c < 0.6; c += 0.01) {
        const { length } = loopAround(chainWheel(a), chainWheel(b), c);
        // the slope is 2 cos α of some distance in between; a chain's pins are off their circle by a part in a thousand
        expect(length - before).toBeGreaterThan(0.02 * Math.cos(Math.asin(d / (c - 0.01))) - 1e-5);
        expect(length - before).toBeLessThan(0.02 + 1e-9);
        before = length;
      }
      expect(loopAround(chainWheel(a + 1), chainWheel(b), 0.4).length).toBeGreaterThan(
        loopAround(chainWheel(a), chainWheel(b), 0.4).length,
      );
    }
  });
  it('is two runs and one turn for equal wheels', () => {
    const loop = loopAround(pulley(0.1), pulley(0.1), 0.3);
    expectWithin(loop.length, 0.6 + Math.PI * 0.1, ROUNDOFF);
    expectWithin(loop.wrap[0], Math.PI, ROUNDOFF);
  });
  it('wraps by a whole turn in all, and holds half the teeth of both where they are equal', () => {
    for (const [a, b] of pairs) {
      const { wrap } = loopAround(chainWheel(a), chainWheel(b), 0.4);
      expectWithin(wrap[0] + wrap[1], 2 * Math.PI, ROUNDOFF);
    }
    expectWithin(teethInMesh(22, loopAround(chainWheel(22), chainWheel(22), 0.4).wrap[0]), 11, ROUNDOFF);
  });
  it('finds the distance of its own length again, near the closest the wheels can stand and far away', () => {
    for (const [a, b] of pairs)
      for (const c of [0.15, 0.3, 0.9]) {
        const { length } = loopAround(beltWheel(a, 0.011), beltWheel(b, 0.011), c);
        const found = centresFor(beltWheel(a, 0.011), beltWheel(b, 0.011), length);
        expect(found.converged).toBe(true);
        expectWithin(found.centres, c, { relative: 1e-12 }, [a, b, c]);
      }
  });
  it('refuses wheels that overlap, a loop too short for them, wheels without size', () => {
    expect(() => loopAround(chainWheel(44), chainWheel(13), 0.1)).toThrow(/overlap/);
    expect(() => centresFor(chainWheel(44), chainWheel(13), 0.3)).toThrow(/too short/);
    expect(() => loopAround(pulley(0), pulley(0.1), 0.3)).toThrow(/carries no chain/);
  });
});

describe('links and teeth', () => {
  it('are whole, of a chain even, and reach round', () => {
    for (let i = 80; i < 120; i++) {
      const length = (i + 0.3) * CHAIN_PITCH;
      const even = pitchesFor(length, CHAIN_PITCH, true);
      expect(even % 2).toBe(0);
      expect(even * CHAIN_PITCH - length).toBeGreaterThanOrEqual(0);
      expect(even * CHAIN_PITCH - length).toBeLessThan(2 * CHAIN_PITCH);
      expect(pitchesFor(length, CHAIN_PITCH, false)).toBe(i + 1);
    }
    expect(pitchesFor(96 * CHAIN_PITCH, CHAIN_PITCH, true)).toBe(96);
  });
  it('lay a pitch down per tooth: a chain wheel’s turn is its teeth', () => {
    expectWithin(2 * Math.PI * chainWheel(13).perRadian, 13 * CHAIN_PITCH, ROUNDOFF);
    expect(chainWheel(13).radius).toBeGreaterThan(chainWheel(13).perRadian);
  });
});

it('a slack run sags as its arc is longer: the parabola’s length is given back', () => {
  const [chord, excess] = [0.4, 0.004];
  const f = sagOf(chord, excess);
  // arc of the parabola y = 4 f x (c − x)/c², to second order 8 f²/3c
  let arc = 0;
  const n = 4000;
  for (let i = 0; i < n; i++) {
    const y = (x: number) => (4 * f * x * (chord - x)) / (chord * chord);
    const [a, b] = [(chord * i) / n, (chord * (i + 1)) / n];
    arc += Math.sqrt((b - a) * (b - a) + (y(b) - y(a)) * (y(b) - y(a)));
  }
  // the next term is 32 f⁴/5c³
  expectWithin(arc - chord, excess, { relative: (2.5 * f * f) / (chord * chord) });
  expect(sagOf(chord, -0.01)).toBe(0);
  expectWithin(lineAngle(0.02, 0.35), Math.atan(0.02 / 0.35), ROUNDOFF);
});
