import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { rotationAbout, type Vec3 } from '../math/rigid.ts';
import { cornerMargin, rolledEntry } from './opening.ts';
import { movedSolid, type Solid, solidExtent, solidOf } from './solid.ts';
import { attitudes, fitPlace, fitPlaceInterval, type Place, type PlaceFit } from './space.ts';

/** Searches stop within this of the best, m (`SPACE_TOLERANCE` doubled: both sides of a comparison are searched). */
const SEARCH = 2e-6;
const ROUNDOFF = 1e-12;

const boxOf = (l: number, w: number, h: number): Solid =>
  solidOf({ boxes: [[0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, l / 2, w / 2, h / 2]] });
const turned = (s: Solid, axis: Vec3, angle: number): Solid => {
  const t = new Float64Array(12);
  rotationAbout(0.1, 0.2, 0.3, axis[0], axis[1], axis[2], angle, t);
  return movedSolid(s, t);
};
const UP = [{ name: 'standing', up: [0, 0, 1] as Vec3 }];
const stow = (s: Solid, place: Place, given = UP): PlaceFit => {
  const r = fitPlace(s, place, given);
  if (r.margin === undefined) throw new Error('refused');
  return r;
};

describe('the package in a box', () => {
  it('a turned box is found to fit its own size with the margins of the room', () => {
    for (const angle of [0, 0.3, 1.1, 2.9]) {
      const r = stow(turned(boxOf(0.8, 0.3, 0.6), [0, 0, 1], angle), { kind: 'box', size: [0.85, 0.32, 0.7] });
      expectWithin(r.margin, 0.02, { absolute: SEARCH });
      expectWithin(r.margins.up, 0.1, { absolute: ROUNDOFF });
      expect(r.binding).toBe('across');
      expect(r.fits).toBe(true);
    }
  });

  it('a rod in a square room lies on the diagonal', () => {
    const rod = solidOf({ capsules: [[-0.5, 0, 0, 0.5, 0, 0, 0.02]] });
    const r = stow(rod, { kind: 'box', size: [0.8, 0.8, 1] });
    expectWithin(r.margin, 0.8 - 1 / Math.SQRT2 - 0.04, { absolute: SEARCH });
  });

  it('no yaw of a fine scan beats the proven one', () => {
    const shapes = fc.array(fc.array(fc.double({ min: -0.4, max: 0.4, noNaN: true }), { minLength: 6, maxLength: 6 }), {
      minLength: 1,
      maxLength: 6,
    });
    fc.assert(
      fc.property(shapes, fc.double({ min: 0.3, max: 1, noNaN: true }), (ends, ratio) => {
        const s = solidOf({
          capsules: ends.map((e) => [...e, 0.02]),
          discs: [[0.1, 0, 0, 0.6, 0.8, 0, 0.2, 0.02]],
        });
        const [l, w] = [0.9, 0.9 * ratio];
        const r = stow(s, { kind: 'box', size: [l, w, Infinity] });
        for (let k = 0; k < 360; k++) {
          const a = (Math.PI * k) / 360;
          const along = solidExtent(s, [Math.cos(a), Math.sin(a), 0]);
          const across = solidExtent(s, [-Math.sin(a), Math.cos(a), 0]);
          expect(Math.min(l - along, w - across)).toBeLessThanOrEqual(r.margin + SEARCH);
        }
        // And what is promised is really reached at the direction named.
        expectWithin(solidExtent(s, r.along), r.extents.along, { absolute: 1e-9 });
      }),
      { numRuns: 40, seed: 7 },
    );
  });

  it('a larger package never has the larger margin, and the interval says so', () => {
    const small = solidOf({ capsules: [[0, 0, 0, 0.7, 0.1, 0.2, 0.03]] });
    const large = solidOf({
      capsules: [[0, 0, 0, 0.7, 0.1, 0.2, 0.03]],
      boxes: [[0.3, 0.1, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.05, 0.09, 0.04]],
    });
    const r = fitPlaceInterval(large, small, { kind: 'box', size: [0.9, 0.3, 0.4] }, UP);
    expect(r.largest.margin!).toBeLessThan(r.smallest.margin!);
  });

  it('names the side it lies on and refuses the one with the chain below', () => {
    const s = boxOf(0.8, 0.3, 0.6);
    const place: Place = { kind: 'opening', opening: [0.64, 0.33], depth: 0.95, clearance: 0.01 };
    const flat = attitudes('flat', [0, 1, 0], [0, 0, 1]);
    const r = fitPlace(s, place, flat, { chainSide: [0, -1, 0], cleanSideUp: true });
    expect(r.fits).toBe(true);
    expect(r.margin !== undefined && r.attitude).toBe('on its left side');
    expect(r.refused).toEqual([{ attitude: 'on its right side', reason: 'chain side not up' }]);
    expectWithin(r.margin ?? Number.NaN, 0.02, { absolute: SEARCH }); // 330 − 300 − 10 mm
    const none = fitPlace(s, place, flat.slice(1), { chainSide: [0, -1, 0], cleanSideUp: true });
    expect(none.margin).toBeUndefined();
  });
});

describe('through an opening', () => {
  it('a tilted cross is rolled upright to pass, and the roll is named', () => {
    const s = turned(boxOf(0.8, 0.6, 0.3), [1, 0, 0], 0.2);
    const place: Place = { kind: 'opening', opening: [0.64, 0.32], depth: 1 };
    const straight = stow(s, { ...place, roll: 0 });
    expect(straight.fits).toBe(false);
    const r = stow(s, place);
    expect(r.entry).toBe('rolled');
    expectWithin(Math.abs(r.roll), 0.2, { absolute: 1e-5 });
    expectWithin(r.margin, 0.02, { absolute: SEARCH });
  });

  it('rolling back behind the opening needs room for every attitude on the way', () => {
    const s = turned(boxOf(0.8, 0.6, 0.1), [1, 0, 0], 0.6);
    const push: Vec3 = [1, 0, 0];
    const roomy = rolledEntry(s, push, [0, 1, 0], [0, 0, 1], [0.64, 0.14], [0.7, 0.6], 0.8);
    expectWithin(roomy.margin, 0.04, { absolute: SEARCH });
    const tight = rolledEntry(s, push, [0, 1, 0], [0, 0, 1], [0.64, 0.14], [0.62, 0.6], 0.8);
    // Widest on the way back is 0.6·cos + 0.1·sin at atan(1/6): its diagonal in the plane of the roll.
    expectWithin(roomy.margin - tight.margin, 0.04 - (0.62 - Math.sqrt(0.37)), { absolute: 1e-5 });
  });

  it('a ladder gets round a square corner up to the classical length', () => {
    const longest = 5 * Math.sqrt(5); // (1^(2/3) + 8^(2/3))^(3/2)
    expect(cornerMargin(1, 8, Math.PI / 2, longest - 1e-4, 0)).toBeGreaterThan(0);
    expect(cornerMargin(1, 8, Math.PI / 2, longest + 1e-4, 0)).toBeLessThan(0);
  });

  it('a slope of no account leaves the headroom, and the steepest one is the corner', () => {
    expectWithin(cornerMargin(0.3, 0.3, 1e-3, 0.8, 0.2), 0.1 - (0.8 * 1e-3) / 4, { absolute: 1e-5 });
    expectWithin(cornerMargin(1.2, 1, Math.PI / 2 - 1e-9, 0.8, 0.3), cornerMargin(1.2, 1, Math.PI / 2, 0.8, 0.3), {
      absolute: 1e-8,
    });
  });

  it('a narrow aisle turns a fitting package away', () => {
    const s = boxOf(0.8, 0.6, 0.3);
    const place = { kind: 'opening', opening: [0.64, 0.33], depth: 0.95 } as const;
    expect(stow(s, place).fits).toBe(true);
    expect(stow(s, { ...place, approach: { kind: 'aisle', width: 0.9 } }).fits).toBe(true);
    const narrow = stow(s, { ...place, approach: { kind: 'aisle', width: 0.7 } });
    expect(narrow.fits).toBe(false);
    expect(narrow.binding).toBe('turn');
  });
});
