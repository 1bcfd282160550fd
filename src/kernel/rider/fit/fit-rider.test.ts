import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { PosedShapes } from '../../envelope/index.ts';
import { refreshBounds } from '../../envelope/index.ts';
import type { Vec3 } from '../../math/rigid.ts';
import { bodyLinks } from '../body-links.ts';
import { drawPopulation, RIDER_STRIDE } from '../population.ts';
import { PUBLICS } from '../publics.ts';
import { saddleForRider } from '../saddle.ts';
import { kneeFlexion } from '../seat.ts';
import { COLUMN, SURVEY } from '../survey.ts';
import { clearanceField, FAR, makeField, type Obstacles, readField } from './clearance-field.ts';
import { FIT_CHANGES, fitChanges } from './fit-change.ts';
import type { FitGeometry } from './fit-geometry.ts';
import { fitPublic } from './fit-population.ts';
import { FIT, FIT_STRIDE, fitRider, tightPlaces } from './fit-rider.ts';
import { fitLimits, MISS } from './limits.ts';

const DEG = Math.PI / 180;
const NOTHING = makeField(() => ({ distance: FAR, shape: -1, angle: 0, side: 1 }));
/** Capsules of radius r from p to q. */
function capsules(list: readonly (readonly [Vec3, Vec3, number])[]): Obstacles {
  const empty = new Float64Array(0);
  const posed: PosedShapes = {
    nCapsule: list.length,
    nDisc: 0,
    nBox: 0,
    capsule: Float64Array.from(list.flatMap(([p, q, r]) => [...p, ...q, r])),
    disc: empty,
    box: empty,
    bounds: new Float64Array(6 * list.length),
  };
  refreshBounds(posed);
  return { posed, shapes: Int32Array.from(list.keys()), angle: 0 };
}
const BAR = capsules([[[0.75, -0.28, 1.08], [0.75, 0.28, 1.08], 0.016]]);
const seatAngle = 72 * DEG;
const geometry: FitGeometry = {
  crank: { x: 0.42, z: 0.29, length: 0.165 },
  saddle: { x: 0.42 - 0.7 * Math.cos(seatAngle), z: 0.29 + 0.7 * Math.sin(seatAngle), low: -0.12, high: 0.12 },
  rise: { x: -Math.cos(seatAngle), z: Math.sin(seatAngle) },
  grip: { x: 0.75, z: 1.08, half: 0.25 },
  bar: clearanceField([BAR], [0.12]),
  barShift: { x: 0, z: 0 },
  frameAtKnee: NOTHING,
  wheelAtToe: NOTHING,
  frameAtHeel: NOTHING,
  frameAtLeg: NOTHING,
  over: 0.5,
  rating: 110,
};
const limits = fitLimits();
const people = drawPopulation({ women: 0.5, ...PUBLICS.germany_2005 }, 1500, 4);
const before = fitPublic(geometry, limits, people);
const row = (fit: Float64Array, i: number, column: number): number => fit[i * FIT_STRIDE + column]!;

describe('a rider fitted on a bicycle', () => {
  it('sits and bends the knees as the seated rider of the same body does', () => {
    const man = Float64Array.from(SURVEY.male.mean);
    man[COLUMN.mass] = 80;
    const out = new Float64Array(FIT_STRIDE);
    fitRider(geometry, limits, man, false, 0, out);
    const rider = { stature: man[COLUMN.stature]!, mass: 80, sex: 'male' } as const;
    const links = bodyLinks(rider);
    const post = {
      saddle: [geometry.saddle.x, 0, geometry.saddle.z] as Vec3,
      crank: [0.42, 0, 0.29] as Vec3,
      up: [geometry.rise.x, 0, geometry.rise.z] as Vec3,
      range: [-0.12, 0.12] as const,
    };
    const setting = saddleForRider(rider, post);
    // the other takes the inseam from a regression through the same means, printed to four digits
    expectWithin(out[FIT.raise]!, setting.raise, { absolute: 1e-4 });
    const hip: Vec3 = [
      geometry.saddle.x + out[FIT.raise]! * geometry.rise.x,
      0,
      geometry.saddle.z + out[FIT.raise]! * geometry.rise.z + links.hipAboveSaddle,
    ];
    const l = Math.sqrt((hip[0] - 0.42) * (hip[0] - 0.42) + (hip[2] - 0.29) * (hip[2] - 0.29));
    const down: Vec3 = [0.42 - (0.165 * (hip[0] - 0.42)) / l, 0, 0.29 - (0.165 * (hip[2] - 0.29)) / l];
    expectWithin(out[FIT.kneeBottom]!, kneeFlexion(links, hip, down), { absolute: 1e-12 });
  });

  it('is left out for what it misses: too tall for the post, too heavy, grips out of reach', () => {
    const tall = Float64Array.from(SURVEY.male.mean, (m) => 1.25 * m);
    tall[COLUMN.mass] = 140;
    const out = new Float64Array(FIT_STRIDE);
    const mask = fitRider(geometry, limits, tall, false, 0, out);
    expect(mask & MISS.post_short).toBeTruthy();
    expect(mask & MISS.mass).toBeTruthy();
    expect(mask & MISS.post_long).toBe(0);
    const far = { ...geometry, grip: { x: 1.6, z: 0.9, half: 0.25 } };
    expect(fitRider(far, limits, tall, false, 0, out) & MISS.reach_far).toBeTruthy();
  });

  it('has the least room where the exact distance says so', () => {
    for (let i = 0; i < 40; i++) {
      const knee = tightPlaces(geometry, limits, people.value, people.female[i] === 1, i).find(
        (t) => t.key === 'knee',
      )!;
      const gap = row(before.riders, i, FIT.kneeGap) + limits.knee_radius;
      // interpolation of the field: cell²/(4 d) = 0.3 mm at a knee's 80 mm; nothing is told apart beyond FAR
      if (gap < FAR - 0.01) expectWithin(knee.nearest.distance, gap, { absolute: 4e-4 }, i);
    }
  });
});

describe('a field of clearance', () => {
  it('is within a third of a millimetre of the exact distance, 80 mm and more away', () => {
    const field = clearanceField([BAR], [0.12]);
    for (let i = 0; i < 500; i++) {
      const a = i * 2.399963;
      const r = 0.096 + 0.04 * ((i * 0.618034) % 1);
      const [x, z] = [0.75 + r * Math.cos(a), 1.08 + r * Math.sin(a)];
      expectWithin(readField(field, x, z), r - 0.016, { absolute: 3.2e-4 }, { x, z });
      expectWithin(field.exact(x, z).distance, r - 0.016, { absolute: 1e-12 });
    }
  });

  it('answers outside its grid as inside', () => {
    const far = capsules([[[1.8, -0.3, 0.5], [1.8, 0.3, 0.5], 0.02]]);
    const field = clearanceField([far], [0.12]);
    expectWithin(readField(field, 1.75, 0.5), 0.03, { absolute: 1e-12 });
    expect(field.exact(1.75, 0.5)).toMatchObject({ shape: 0 });
  });
});

describe('a public fitted on a bicycle', () => {
  const missed = (g: FitGeometry, key: keyof typeof MISS): number =>
    fitPublic(g, limits, people).misses.find((m) => m.key === key)!.all.share;

  it('counts every rider once, and nobody as left out by something that is not there', () => {
    const { fits, misses } = before;
    const atLeastOne = Array.from({ length: people.n }, (_, i) => row(before.riders, i, FIT.mask)).filter(
      (m) => m !== 0,
    );
    expectWithin(fits.share, 1 - atLeastOne.length / people.n, { absolute: 1e-15 });
    const only = misses.reduce((sum, m) => sum + m.only.share, 0);
    expect(only).toBeLessThanOrEqual(1 - fits.share + 1e-12);
    for (const key of ['toe', 'heel', 'leg'] as const) expect(misses.find((m) => m.key === key)!.all.share).toBe(0);
  });

  it('leaves out fewer tall riders with a longer post, and they are tall', () => {
    const short = { ...geometry, saddle: { ...geometry.saddle, high: 0.04 } };
    const longer = { ...short, saddle: { ...short.saddle, high: 0.07 } };
    expect(missed(short, 'post_short')).toBeGreaterThan(missed(longer, 'post_short') + 0.02);
    const mean = (g: FitGeometry): number => {
      const { riders } = fitPublic(g, limits, people);
      const left = Array.from({ length: people.n }, (_, i) => i).filter(
        (i) => row(riders, i, FIT.mask) & MISS.post_short,
      );
      return left.reduce((sum, i) => sum + people.value[i * RIDER_STRIDE + COLUMN.inseam]!, 0) / left.length;
    };
    expect(mean(short)).toBeGreaterThan(0.86);
  });

  it('leaves out more short riders with a post that ends higher', () => {
    const high = { ...geometry, saddle: { ...geometry.saddle, low: -0.02 } };
    expect(missed(high, 'post_long')).toBeGreaterThan(missed(geometry, 'post_long') + 0.02);
  });

  it('leaves out more riders by the knee with longer cranks, and never fewer', () => {
    // a low bar that knees come near
    const low = { ...geometry, grip: { x: 0.7, z: 0.99, half: 0.25 }, barShift: { x: -0.05, z: -0.09 } };
    const with_ = (length: number): number => missed({ ...low, crank: { ...low.crank, length } }, 'knee');
    const shares = [0.15, 0.16, 0.17, 0.18].map(with_);
    for (let i = 1; i < shares.length; i++) expect(shares[i]!).toBeGreaterThan(shares[i - 1]!);
  });

  it('says that a change wins what it wins: a longer post where the post is short', () => {
    const short = { ...geometry, saddle: { ...geometry.saddle, high: 0.02 } };
    const now = fitPublic(short, limits, people);
    const gains = fitChanges(short, limits, people, now.riders);
    expect(gains).toHaveLength(FIT_CHANGES.length);
    expect(gains[0]!.key).toBe('post_up');
    const after = fitPublic(FIT_CHANGES.find((c) => c.key === 'post_up')!.apply(short), limits, people);
    expectWithin(now.fits.share + gains[0]!.won - gains[0]!.lost, after.fits.share, { absolute: 1e-12 });
  });

  it('moves the bar’s field with the bar', () => {
    const moved = FIT_CHANGES.find((c) => c.key === 'bar_up')!.apply(geometry);
    const drawnThere = {
      ...moved,
      barShift: { x: 0, z: 0 },
      bar: clearanceField([capsules([[[0.75, -0.28, 1.11], [0.75, 0.28, 1.11], 0.016]])], [0.12]),
    };
    const [a, b] = [moved, drawnThere].map((g) => fitPublic(g, limits, people).riders);
    for (let i = 0; i < people.n; i++)
      // two grids: twice the interpolation's error
      expectWithin(row(a!, i, FIT.kneeGap), row(b!, i, FIT.kneeGap), { absolute: 1e-3 }, i);
  });
});
