import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { LINK, linksInto } from '../body-links.ts';
import { drawPopulation, RIDER_STRIDE } from '../population.ts';
import { PUBLICS } from '../publics.ts';
import { type ClearanceField, makeField, readField } from './clearance-field.ts';
import type { FitGeometry } from './fit-geometry.ts';
import { turnCranks } from './leg-turn.ts';
import { fitLimits } from './limits.ts';

/** A round bar of 16 mm at (x, z) in the plane of the knees: both turns read the same field, so that only their steps differ. */
const barAt = (x: number, z: number): ClearanceField =>
  makeField((px, pz) => ({
    distance: Math.sqrt((px - x) * (px - x) + (pz - z) * (pz - z)) - 0.016,
    shape: 0,
    angle: 0,
    side: 1,
  }));
const NOTHING = makeField(() => ({ distance: 1, shape: -1, angle: 0, side: 1 }));
const limits = fitLimits();
const people = drawPopulation({ women: 0.5, ...PUBLICS.germany_2005 }, 300, 2);
const HIP = { x: 0.2, z: 1.0 };
const geometry = (bar: ClearanceField, length: number): FitGeometry => ({
  crank: { x: 0.42, z: 0.29, length },
  saddle: { x: 0.2, z: 0.96, low: 0, high: 0 },
  rise: { x: 0, z: 1 },
  grip: { x: 0.75, z: 1.08, half: 0.25 },
  bar,
  barShift: { x: 0, z: 0 },
  frameAtKnee: NOTHING,
  wheelAtToe: NOTHING,
  frameAtHeel: NOTHING,
  frameAtLeg: NOTHING,
  over: 0.5,
  rating: 110,
});

/** The same linkage written out, crank by half a degree. */
function densest(g: FitGeometry, l: Float64Array): number {
  const [c, s] = [Math.cos(Math.PI / 12), Math.sin(Math.PI / 12)];
  const [fx, fz] = [l[LINK.ankleAhead]! - l[LINK.ball]!, l[LINK.ankle]! + 0.03];
  const [a, b] = [l[LINK.thigh]!, l[LINK.shank]!];
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 720; k++) {
    const t = (k * Math.PI) / 360;
    const ankle = [
      g.crank.x + g.crank.length * Math.sin(t) + fx * c + fz * s,
      g.crank.z + g.crank.length * Math.cos(t) - fx * s + fz * c,
    ] as const;
    const d = Math.min(
      a + b,
      Math.sqrt((ankle[0] - HIP.x) * (ankle[0] - HIP.x) + (ankle[1] - HIP.z) * (ankle[1] - HIP.z)),
    );
    const towards = Math.atan2(ankle[1] - HIP.z, ankle[0] - HIP.x);
    const opened = Math.acos(Math.min(1, (a * a + d * d - b * b) / (2 * a * d)));
    const knee = [HIP.x + a * Math.cos(towards + opened), HIP.z + a * Math.sin(towards + opened)] as const;
    least = Math.min(least, readField(g.bar, knee[0], knee[1]));
  }
  return least - limits.knee_radius;
}

describe('a turn of the cranks', () => {
  it('finds the least room of a knee to half a millimetre where it decides, and never too little', () => {
    const l = new Float64Array(13);
    const out = new Float64Array(6);
    let decided = 0;
    for (let i = 0; i < people.n; i++) {
      linksInto(people.value, i * RIDER_STRIDE, people.female[i] === 1, l);
      const g = geometry(barAt(0.66 + 0.0004 * i, 0.98), 0.15 + 0.0001 * i);
      turnCranks(g, limits, l, HIP.x, HIP.z, out);
      const dense = densest(g, l);
      // half-degree steps miss the least by less than a hundredth of a millimetre
      expect(out[2]!).toBeGreaterThan(dense - 1e-5);
      if (Math.abs(dense - limits.knee_gap) < 0.005) {
        decided++;
        expectWithin(out[2]!, dense, { absolute: 5e-4 }, i);
      } else expectWithin(out[2]!, dense, { absolute: 6e-3 }, i);
    }
    expect(decided).toBeGreaterThan(10);
  });
});
