/** Clearance of one posture. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { linkageModel } from '../../../test/fixtures/linkage-models.ts';
import { shape } from '../../../test/fixtures/random-shapes.ts';
import { foldingBicycle, type ShapeDraft, withShapes } from '../../../test/fixtures/shaped-models.ts';
import { clash, leastBetweenBodies, newClash } from './clash.ts';
import { newPosedShapes, poseShapes } from './posed-shapes.ts';
import { shapeDistance } from './shape-distance.ts';

const PROMISED = { absolute: 1e-9 };
const bodies = ['a', 'b', 'c'];
const base = linkageModel({
  bodies,
  joints: [
    { name: 'ab', kind: 'pivot', held: 'none', between: ['a', 'b'], at: [0, 0, 0], axis: [0, 0, 1] },
    { name: 'bc', kind: 'pivot', held: 'none', between: ['b', 'c'], at: [1, 0, 0], axis: [0, 1, 0] },
  ],
});
const group = fc.array(fc.tuple(shape, fc.constantFrom(...bodies)), { minLength: 4, maxLength: 12 });

describe('clash', () => {
  test('finds the least of all pairs although it skips far ones, and adds up the overlaps', () => {
    fc.assert(
      fc.property(group, (list) => {
        const drafts = list.map(([x, body]): ShapeDraft => ({ body, shape: x }));
        const { m, s } = withShapes(base, drafts);
        const posed = newPosedShapes(m.top);
        poseShapes(m.top, s, posed);
        const quick = newClash(),
          full = newClash(m.top);
        clash(m.top, posed, quick);
        clash(m.top, posed, full);
        // Independent: every two shapes of different bodies as records.
        let least = Infinity,
          overlap = 0;
        for (let i = 0; i < list.length; i++)
          for (let j = i + 1; j < list.length; j++) {
            if (list[i]![1] === list[j]![1]) continue;
            const d = shapeDistance(list[i]![0], list[j]![0]);
            least = Math.min(least, d.overlap > 0 ? -d.overlap : d.distance);
            overlap += d.overlap;
          }
        if (least === Infinity) {
          expect(quick.pair).toBe(-1);
          return;
        }
        // Overlaps slide to their least from directions given in another order.
        const tolerance = least < 0 ? { absolute: 1e-6, relative: 2e-3 } : PROMISED;
        expectWithin(quick.gap, least, tolerance);
        expectWithin(full.gap, least, tolerance);
        expectWithin(quick.overlap, overlap, { absolute: 1e-6, relative: 2e-3 });
        expect(Math.min(...full.perPair!)).toBe(full.gap);
        const byBodies = leastBetweenBodies(m.top, posed);
        expect(byBodies[0]!.gap).toBe(full.gap);
        expect(m.top.shapeBody[byBodies[0]!.shapes[0]]).toBe(byBodies[0]!.bodies[0]);
      }),
      { numRuns: 150, endOnFailure: true },
    );
  });

  test('an empty list of pairs has no least', () => {
    const { m, s } = foldingBicycle();
    const posed = newPosedShapes(m.top);
    poseShapes(m.top, s, posed);
    const out = newClash();
    clash({ pairs: new Int32Array(0) }, posed, out);
    expect(out).toMatchObject({ gap: Infinity, pair: -1, a: -1, b: -1, overlap: 0, count: 0 });
  });
});
