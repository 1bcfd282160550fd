/**
 * Which one change wins most riders: the same public on bicycles that differ in one thing.
 *
 * Steps are what a designer would try next (sizes from memory). The same riders are fitted again, so that the difference is
 * the change's and not the sample's. Places are moved as they stand: whether tube, package and fold allow it is for
 * the next evaluation to say.
 * Units: m, kg. Not here: two changes at once.
 */
import type { Population } from '../population.ts';
import { withdrawn } from './clearance-field.ts';
import { type FitGeometry, uniformGeometry } from './fit-geometry.ts';
import { FIT, FIT_STRIDE, fitRider } from './fit-rider.ts';
import type { FitLimits } from './limits.ts';

export interface FitChange {
  readonly key: string;
  readonly words: string;
  apply(g: FitGeometry): FitGeometry;
}

const STEP = 0.03;
const moveBar = (x: number, z: number) => (g: FitGeometry) => ({
  ...g,
  grip: { ...g.grip, x: g.grip.x + x, z: g.grip.z + z },
  barShift: { x: g.barShift.x + x, z: g.barShift.z + z },
});
export const FIT_CHANGES: readonly FitChange[] = [
  {
    key: 'post_up',
    words: 'saddle 30 mm higher at most',
    apply: (g) => ({ ...g, saddle: { ...g.saddle, high: g.saddle.high + STEP } }),
  },
  {
    key: 'post_down',
    words: 'saddle 30 mm lower at least',
    apply: (g) => ({ ...g, saddle: { ...g.saddle, low: g.saddle.low - STEP } }),
  },
  { key: 'bar_ahead', words: 'grips 30 mm farther ahead', apply: moveBar(STEP, 0) },
  { key: 'bar_back', words: 'grips 30 mm nearer', apply: moveBar(-STEP, 0) },
  { key: 'bar_up', words: 'grips 30 mm higher', apply: moveBar(0, STEP) },
  { key: 'bar_down', words: 'grips 30 mm lower', apply: moveBar(0, -STEP) },
  {
    key: 'crank_short',
    words: 'cranks 10 mm shorter',
    apply: (g) => ({ ...g, crank: { ...g.crank, length: g.crank.length - 0.01 } }),
  },
  {
    key: 'crank_low',
    words: 'bottom bracket 10 mm lower, and the saddle with it',
    apply: (g) => ({
      ...g,
      crank: { ...g.crank, z: g.crank.z - 0.01 },
      saddle: { ...g.saddle, z: g.saddle.z - 0.01 },
    }),
  },
  {
    key: 'frame_slim',
    words: 'frame and locks 10 mm slimmer on each side beside the legs',
    apply: (g) => ({ ...g, frameAtLeg: withdrawn(g.frameAtLeg, 0.01), frameAtHeel: withdrawn(g.frameAtHeel, 0.01) }),
  },
  { key: 'over_low', words: 'frame 30 mm lower to stand over', apply: (g) => ({ ...g, over: g.over - STEP }) },
  { key: 'rating', words: 'rated for 10 kg more', apply: (g) => ({ ...g, rating: g.rating + 10 }) },
];

export interface FitGain {
  readonly key: string;
  readonly words: string;
  /** Riders won and lost, as shares of all. */
  readonly won: number;
  readonly lost: number;
}

/** All changes, the largest net gain first. `before`: rows of the same riders on the bicycle as it is. */
export function fitChanges(
  g: FitGeometry,
  limits: FitLimits,
  people: Population,
  before: Float64Array,
  changes: readonly FitChange[] = FIT_CHANGES,
): FitGain[] {
  const { n, female, value } = people;
  const row = new Float64Array(n * FIT_STRIDE);
  return changes
    .map(({ key, words, apply }): FitGain => {
      const changed = uniformGeometry(apply(g));
      let [won, lost] = [0, 0];
      for (let i = 0; i < n; i++) {
        const now = fitRider(changed, limits, value, female[i] === 1, i, row) === 0;
        const was = before[i * FIT_STRIDE + FIT.mask] === 0;
        if (now && !was) won++;
        if (was && !now) lost++;
      }
      return { key, words, won: won / n, lost: lost / n };
    })
    .sort((a, b) => b.won - b.lost - (a.won - a.lost));
}
