/**
 * Clearances: each distance, one static fold evaluation (pose, box along the axle, all pairs), the proof of a whole fold, the
 * least box. The bicycle is invented (25 shapes, 206 pairs, four motions); loose shapes come from a seeded generator.
 */

import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import {
  at3,
  BOX_FINE,
  boxAlong,
  clash,
  crankSweep,
  gapBetween,
  minBox,
  newClash,
  newFoldBox,
  newPosedShapes,
  type PosedShapes,
  packShape,
  planFold,
  poseBodies,
  poseFolded,
  poseShapes,
  provePath,
  refreshBounds,
  type SolidShape,
  unit,
  type Vec3,
} from '#kernel';
import { foldingBicycle } from '../test/fixtures/shaped-models.ts';
import { measure } from './measure.ts';

const random = xoroshiro128plus(20240611);
const uniform = (lo: number, hi: number): number => lo + (hi - lo) * uniformFloat64(random);
const somewhere = (): Vec3 => [uniform(-0.6, 0.6), uniform(-0.6, 0.6), uniform(-0.6, 0.6)];
const somehow = (): Vec3 => {
  for (;;) {
    const v: Vec3 = [uniform(-1, 1), uniform(-1, 1), uniform(-1, 1)];
    const n = v[0] * v[0] + v[1] * v[1] + v[2] * v[2];
    if (n > 0.01 && n < 1) return unit(v);
  }
};
const across = (x: Vec3): [Vec3, Vec3] => {
  const k = Math.abs(x[0]) < 0.6 ? 0 : 1;
  const e: Vec3 = [k === 0 ? 1 : 0, k === 1 ? 1 : 0, 0];
  const y = unit([x[1] * e[2] - x[2] * e[1], x[2] * e[0] - x[0] * e[2], x[0] * e[1] - x[1] * e[0]]);
  return [y, [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]]];
};
const make: Readonly<Record<SolidShape['kind'], () => SolidShape>> = {
  capsule: () => ({ kind: 'capsule', from: somewhere(), to: somewhere(), radius: 0.015 }),
  disc: () => ({
    kind: 'disc',
    centre: somewhere(),
    normal: somehow(),
    radius: uniform(0.1, 0.25),
    halfThickness: 0.02,
  }),
  box: () => {
    const x = somehow();
    return { kind: 'box', centre: somewhere(), axes: [x, ...across(x)], half: [0.03, 0.04, 0.05] };
  },
};

/** 500 shapes of each kind. */
const N = 500;
const loose: PosedShapes = newPosedShapes({ nCapsule: N, nDisc: N, nBox: N });
for (let i = 0; i < N; i++) {
  loose.capsule.set(packShape(make.capsule()), 7 * i);
  loose.disc.set(packShape(make.disc()), 8 * i);
  loose.box.set(packShape(make.box()), 15 * i);
}
refreshBounds(loose);
const out = new Float64Array(7);
const start = { capsule: 0, disc: N, box: 2 * N } as const;
for (const [a, b] of [
  ['capsule', 'capsule'],
  ['capsule', 'disc'],
  ['capsule', 'box'],
  ['disc', 'disc'],
  ['disc', 'box'],
  ['box', 'box'],
] as const) {
  let k = 0;
  measure(
    `${a}–${b}, one distance with nearest points`,
    () => {
      k = (k + 1) % (N - 1);
      return gapBetween(loose, start[a] + k, start[b] + ((7 * k + 1) % N), Infinity, out);
    },
    { budget_ms: 300 },
  );
}

const { m, s } = foldingBicycle();
const plan = planFold(m, s);
poseFolded(m, plan, s);
const posed = newPosedShapes(m.top);
const result = newClash();
const box = newFoldBox(m.top);
/** The front wheel's axle in the folded posture: body 2 is the fork. */
const axle = (): Vec3 => [s.bodyT[12 * 2 + 1]!, s.bodyT[12 * 2 + 5]!, s.bodyT[12 * 2 + 9]!];

measure('bodies and shapes posed', () => {
  poseBodies(m.top, s);
  poseShapes(m.top, s, posed);
  return posed.bounds[0]!;
});
measure('least gap of 206 pairs, folded', () => {
  clash(m.top, posed, result);
  return result.gap;
});
measure('box along an axle, quick', () => {
  boxAlong(posed, axle(), box);
  return box.volume;
});
measure('box along an axle, fine', () => {
  boxAlong(posed, axle(), box, BOX_FINE);
  return box.volume;
});
measure(
  'static fold evaluation: pose, box, all pairs',
  () => {
    poseBodies(m.top, s);
    poseShapes(m.top, s, posed);
    boxAlong(posed, axle(), box);
    clash(m.top, posed, result);
    return result.gap + box.volume;
  },
  { aim_us: 15 },
);
measure('proof of a whole fold, four motions', () => provePath(m, s, plan).reduce((sum, p) => sum + p.evaluations, 0), {
  aim_us: 5000,
  budget_ms: 1500,
});
const ride = foldingBicycle();
measure('proof of the crank sweep', () => crankSweep(ride.m, ride.s)!.evaluations);

const corners = Array.from({ length: 30 }, (_, i) => at3(loose.capsule, 7 * i));
measure('least box in any orientation, 30 points', () => minBox(corners).volume, { budget_ms: 1500 });
