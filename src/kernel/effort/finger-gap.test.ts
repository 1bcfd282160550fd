import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { type ShapedModel, shapedModel } from '../../../test/fixtures/rod-models.ts';
import { newLinkageWorkspace, planFold } from '../linkage/index.ts';
import type { Vec3 } from '../math/index.ts';
import { crushes, FINGER_GAP, fingerGaps, type HandZone, type HingeFace } from './finger-gap.ts';

const ROUNDOFF = { absolute: 1e-9 };
const Y = [0, 1, 0] as const;
/** A bar that comes down onto a beam, both 20 mm thick: it ends `end` (m) above it, `open` rad before. */
const lid = (end: number, open = 1): ShapedModel =>
  shapedModel(
    {
      bodies: ['beam', 'bar'],
      joints: [
        { name: 'hinge', kind: 'pivot', held: 'none', between: ['beam', 'bar'], at: [0, 0, end + 0.02], axis: Y },
      ],
      fold: [{ move: 'turn', joint: 'hinge', to: open }],
    },
    [
      { body: 'beam', from: [0.1, 0, 0], to: [0.6, 0, 0] },
      // drawn shut; folding turns it down through the beam's level when `open` is positive, up when it is negative
      { body: 'bar', from: [0.1, 0, end + 0.02], to: [0.6, 0, end + 0.02] },
    ],
  );
const zone = (point: Vec3, body = 1): HandZone => ({ body, point, what: 'moves', joint: -1 });
function pinches(w: ShapedModel, hand: Vec3, zones: readonly HandZone[], faces: readonly HingeFace[] = []) {
  const ws = newLinkageWorkspace(w.m.top);
  const plan = planFold(w.m, w.s, ws);
  const place = { shape: 1, body: 1, point: hand, foot: false, way: 0.5 };
  return fingerGaps(w.m, w.s, plan, [place], [zones], faces, [[]], ws);
}
const TIP: Vec3 = [0.55, 0, 0.04];

describe('a bar that comes down beside a hand', () => {
  test('pinches a finger when 10 mm are left: where, on which way, how hard', () => {
    const found = pinches(lid(0.01, -1), TIP, [zone(TIP)]);
    expect(found).toHaveLength(1);
    const [p] = found;
    expect(p!.ways).toEqual(['unfold']);
    expectWithin(p!.gap, 0.01, ROUNDOFF);
    expect(p!.u).toBe(0);
    expect(p!.from).toBe(FINGER_GAP.out);
    expect(crushes(p!.gap)).toContain('finger');
    // all along the bar the gap is the same when shut; what closes last is as fast as the place under the hand
    expect(p!.advantage).toBeGreaterThan(0.9);
  });
  test('does not when 30 mm are left, or when no finger gets in', () => {
    expect(pinches(lid(0.03, -1), TIP, [zone(TIP)])).toEqual([]);
    // opened by a hundredth of a radian it stays within 4 mm at the hand
    expect(pinches(lid(0.001, -0.005), TIP, [zone(TIP)])).toEqual([]);
  });
  test('does not count where no hand is', () => {
    const far: Vec3 = [0.55, 0.5, 0.04];
    expect(pinches(lid(0.01, -1), TIP, [zone(far)])).toEqual([]);
    expect(pinches(lid(0.01, -1), TIP, [])).toEqual([]);
  });
});

describe('faces of a hinge', () => {
  const face: HingeFace = { joint: 0, edge: [0.05, 0, 0.05] };
  const lock: HandZone = { body: 0, point: [0, 0, 0.05], what: 'lock', joint: 0 };
  test('close altogether, with the lever of the hand over that of the edge', () => {
    const found = pinches(lid(0.03, -1), TIP, [lock], [face]);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ joint: 0, gap: 0, ways: ['unfold'], shapes: [] });
    // hand at 0.55 m, edge at 0.05 m from the axis: chords over the same angle
    expectWithin(found[0]!.advantage, 0.55 / 0.05, { relative: 0.02 });
  });
  test('are no matter where nobody locks them', () => {
    expect(pinches(lid(0.03, -1), TIP, [zone([0.55, 0, 0.05])], [face])).toEqual([]);
  });
});

test('what a gap crushes follows the table of least gaps', () => {
  expect(crushes(0.024)).toEqual(['finger', 'toes', 'hand', 'arm', 'foot', 'leg', 'head', 'body']);
  expect(crushes(0.11)).toEqual(['arm', 'foot', 'leg', 'head', 'body']);
  expect(crushes(0.5)).toEqual([]);
});
