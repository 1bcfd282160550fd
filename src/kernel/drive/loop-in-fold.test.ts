import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { linkageModel } from '../../../test/fixtures/linkage-models.ts';
import { planFold } from '../linkage/index.ts';
import type { Drive } from '../model/types.ts';
import { chainWheel, loopAround } from './loop.ts';
import { loopInFold } from './loop-in-fold.ts';

const DEG = Math.PI / 180;
const [RING, SPROCKET] = [chainWheel(44), chainWheel(13)];
const drive: Drive = {
  kind: 'chain',
  fromBody: 0,
  toBody: 1,
  fromStation: 0,
  toStation: 1,
  side: -1,
  ring: -1,
  sprocket: -1,
  releasable: false,
};

/** A rear end that swings by `to` about a pivot at the origin; chainring at (a, 0, 0), hub at (−b, 0, 0) turned up by `up`. */
function swing(a: number, b: number, up: number, to: number, axis: readonly [number, number, number] = [0, 1, 0]) {
  const { m, s } = linkageModel({
    bodies: ['main', 'rear'],
    joints: [{ name: 'pivot', kind: 'pivot', held: 'none', between: ['main', 'rear'], at: [0, 0, 0], axis }],
    fold: [{ move: 'turn', joint: 'pivot', to }],
  });
  const hub = [-b * Math.cos(up), 0, b * Math.sin(up)];
  const state = { ...s, station: Float64Array.from([a, 0, 0, ...hub]) };
  const model = { ...m, drive };
  return loopInFold(model, state, planFold(model, state), RING, SPROCKET);
}
/** Distance for the angle between the arms to chainring and hub: the law of cosines. */
const apart = (a: number, b: number, angle: number): number => Math.sqrt(a * a + b * b - 2 * a * b * Math.cos(angle));
/** The extreme is closed in on to the width at which the distance no longer changes. */
const CLOSED_IN = { absolute: 1e-9 };

describe('a chain over a swinging rear end', () => {
  it('is longest where pivot, chainring and hub come into line on the way, wherever the samples fall', () => {
    for (const up of [20, 33, 47].map((x) => x * DEG)) {
      // the hub swings down through the line behind the pivot (about +y: x goes to −z, so from above it sinks)
      const f = swing(0.05, 0.35, up, -2 * up);
      expect(f.moves).toBe(true);
      expectWithin(f.ride.centres, apart(0.05, 0.35, Math.PI - up), { absolute: 1e-12 });
      expectWithin(f.longest.centres, 0.4, CLOSED_IN, up);
      expectWithin(f.longest.fraction, 0.5, { absolute: 1e-4 });
      expectWithin(f.folded.centres, f.ride.centres, { absolute: 1e-12 });
      expectWithin(f.longest.need, loopAround(RING, SPROCKET, 0.4).length, { absolute: 1e-8 });
      expect(f.twisted).toBe(false);
    }
  });
  it('is shortest at the end of a half turn, where it needs less chain than it has', () => {
    const f = swing(0.05, 0.35, 0, Math.PI);
    expectWithin(f.folded.centres, 0.3, CLOSED_IN);
    expectWithin(f.shortest.centres, 0.3, CLOSED_IN);
    expect(f.folded.need).toBeLessThan(f.ride.need - 0.19);
    expect(f.longest).toEqual(f.ride);
  });
  it('keeps its length where the pivot is the bottom bracket itself', () => {
    const f = swing(1e-12, 0.4, 0.2, 2.5);
    expectWithin(f.longest.need, f.ride.need, { absolute: 1e-9 });
    expectWithin(f.shortest.need, f.ride.need, { absolute: 1e-9 });
  });
  it('is twisted by a pivot that is not lateral, and goes out of line', () => {
    const f = swing(0.1, 0.3, 0, 120 * DEG, [0, 0, 1]);
    expect(f.twisted).toBe(true);
    // an axle knows no ends: 120° apart is 60° out of parallel
    expectWithin(f.folded.angle, 60 * DEG, { absolute: 1e-9 });
    expectWithin(f.folded.shift, -0.3 * Math.sin(120 * DEG), { absolute: 1e-9 });
    // hub at (0.15, −0.26), chainring at 0.1
    expectWithin(f.folded.centres, 0.05, { absolute: 1e-9 });
    // the wheels lie over one another there: no loop goes round them
    expect(f.folded.need).toBeNaN();
  });
  it('does not move where the fold carries both wheels along', () => {
    const { m, s } = linkageModel({
      bodies: ['main', 'rear'],
      joints: [
        { name: 'pivot', kind: 'pivot', held: 'none', between: ['main', 'rear'], at: [0, 0, 0], axis: [0, 1, 0] },
      ],
      fold: [{ move: 'turn', joint: 'pivot', to: 1 }],
    });
    const state = { ...s, station: Float64Array.from([0.4, 0, 0, 0, 0, 0]) };
    const model = { ...m, drive: { ...drive, fromBody: 1, toBody: 1 } };
    const f = loopInFold(model, state, planFold(model, state), RING, SPROCKET);
    expect(f.moves).toBe(false);
    expect(f.folded).toEqual(f.ride);
  });
});
