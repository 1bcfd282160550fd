/** Clearance over whole motions: what is proven must hold at every posture looked at, and contacts must be found. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { fourBar, type LinkageModel, linkageModel, type ModelDraft } from '../../../test/fixtures/linkage-models.ts';
import { direction, shape } from '../../../test/fixtures/random-shapes.ts';
import {
  block,
  foldingBicycle,
  rod,
  type ShapeDraft,
  wheel,
  withShapes,
} from '../../../test/fixtures/shaped-models.ts';
import { newLinkageWorkspace, planFold, poseAlong } from '../linkage/index.ts';
import { add, movePoint, scale, sub, unit, type Vec3 } from '../math/index.ts';
import { clash, newClash } from './clash.ts';
import type { ProofOptions, SegmentProof } from './clash-types.ts';
import { newPosedShapes, poseShapes } from './posed-shapes.ts';
import { provePath } from './prove-path.ts';
import { crankSweep, FREE_STEER_rad, steerSweep } from './sweeps.ts';

const DEG = Math.PI / 180;
/** Defaults of the proof: a bound is within this of the value found, or above `care`. */
const PROOF = { tolerance: 2e-4, relative: 0.05, care: 0.05 };

const arm = (axis: Vec3, to: number, kind: 'pivot' | 'slide' = 'pivot'): ModelDraft => ({
  bodies: ['base', 'arm'],
  joints: [{ name: 'j', kind, held: 'none', between: ['base', 'arm'], at: [0, 0, 0], axis }],
  fold: [{ move: kind === 'pivot' ? 'turn' : 'slide', joint: 'j', to }],
});
const prove = ({ m, s }: LinkageModel, options?: ProofOptions): SegmentProof[] =>
  provePath(m, s, planFold(m, s), options);

/** Least gap over `n` postures of segment i, by posing everything anew: independent of the proof's own postures. */
function sampled({ m, s }: LinkageModel, i: number, n: number): number {
  const plan = planFold(m, s);
  const here = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  const ws = newLinkageWorkspace(m.top);
  const posed = newPosedShapes(m.top);
  const out = newClash();
  let least = Infinity;
  for (let k = 0; k <= n; k++) {
    poseAlong(m, plan, i, k / n, here, ws);
    poseShapes(m.top, here, posed);
    clash(m.top, posed, out);
    least = Math.min(least, out.gap);
  }
  return least;
}
function expectProof(proof: SegmentProof, least: number, inputs: unknown): void {
  expect(proof.complete).toBe(true);
  const found = proof.least!;
  if (least <= 0) expect(found.gap).toBeLessThanOrEqual(0);
  if (found.gap <= 0) {
    expect(proof.firstContact).toBeDefined();
    return;
  }
  // 1e-9 for two routes to the same posture.
  if (!(found.proven <= least + 1e-9))
    expect.fail(`proven ${found.proven}, sampled ${least}, ${JSON.stringify(inputs)}`);
  const need = Math.min(PROOF.care, found.gap - PROOF.tolerance - PROOF.relative * found.gap);
  expect(found.proven).toBeGreaterThanOrEqual(need - 2e-7);
}

describe('one joint', () => {
  test('a rod that touches only within half a degree of a half-turn is found, wherever the move ends', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.5, max: 0.5, noNaN: true }),
        fc.double({ min: 181, max: 350, noNaN: true }),
        (off, end) => {
          const at = (180 + off) * DEG;
          const model = withShapes(linkageModel(arm([0, 0, 1], end * DEG)), [
            rod('arm', [0.3, 0, 0], [0.8, 0, 0], 0.001),
            rod(
              'base',
              [0.8 * Math.cos(at), 0.8 * Math.sin(at), -0.1],
              [0.8 * Math.cos(at), 0.8 * Math.sin(at), 0.1],
              0.001,
            ),
          ]);
          const [proof] = prove(model);
          expect(proof!.least!.gap).toBeLessThanOrEqual(0);
          // The tip's end is a ball of 1 mm on a circle of 0.8 m; it meets the 1 mm rod when they are 2 mm apart:
          // chord 2·0.8·sin(δ/2) = 0.002. Sampling every degree would miss it.
          const touch = at - 2 * Math.asin(0.00125);
          expectWithin(proof!.firstContact!.at, touch, { absolute: 2e-5 });
        },
      ),
      { numRuns: 60 },
    );
  });

  test('a rod that passes half a millimetre beside another is proven free', () => {
    const model = withShapes(linkageModel(arm([0, 0, 1], 3.4)), [
      rod('arm', [0.3, 0, 0], [0.7975, 0, 0], 0.001),
      rod('base', [-0.8, 0, -0.1], [-0.8, 0, 0.1], 0.001),
    ]);
    const [proof] = prove(model, { tolerance: 1e-5, relative: 0 });
    expect(proof!.firstContact).toBeUndefined();
    expectWithin(proof!.least!.gap, 0.0005, { absolute: 1e-5 });
    expect(proof!.least!.proven).toBeGreaterThan(0.0005 - 1.1e-5);
    expectWithin(proof!.least!.at, Math.PI, { absolute: 0.01 });
  });

  test('holds for random shapes, axes and strokes against 400 postures in between', () => {
    fc.assert(
      fc.property(
        fc.array(shape, { minLength: 1, maxLength: 3 }),
        fc.array(shape, { minLength: 1, maxLength: 3 }),
        direction,
        fc.double({ min: -3.3, max: 3.3, noNaN: true }).filter((x) => Math.abs(x) > 0.01),
        fc.constantFrom('pivot' as const, 'slide' as const),
        (still, moving, axis, stroke, kind) => {
          const drafts = [
            ...still.map((x): ShapeDraft => ({ body: 'base', shape: x })),
            ...moving.map((x): ShapeDraft => ({ body: 'arm', shape: x })),
          ];
          const model = withShapes(linkageModel(arm(axis, kind === 'slide' ? stroke / 5 : stroke, kind)), drafts);
          expectProof(prove(model)[0]!, sampled(model, 0, 400), { still, moving, axis, stroke, kind });
        },
      ),
      { numRuns: 120, endOnFailure: true },
    );
  });

  test('a disc that turns about its own axis costs nothing to prove', () => {
    const model = withShapes(linkageModel(arm([0, 1, 0], 6.2)), [
      wheel('arm', [0, 0, 0], 0.1, 0.003),
      rod('base', [-0.3, 0.015, 0.02], [0.3, 0.02, 0.02], 0.008),
    ]);
    const [proof] = prove(model, { tolerance: 1e-9, relative: 0 });
    expect(proof!.complete).toBe(true);
    expect(proof!.evaluations).toBe(2);
    expectWithin(proof!.least!.proven, proof!.least!.gap, { absolute: 2e-7 });
  });

  test('shapes that pass each other in parallel planes keep their distance at little cost', () => {
    const model = withShapes(linkageModel(arm([0, 1, 0], -3)), [
      wheel('arm', [0.4, 0.04, 0], 0.2, 0.01),
      wheel('base', [-0.3, 0, 0.1], 0.25, 0.01),
      rod('base', [-0.6, 0, 0.3], [0.5, 0, 0.2], 0.012),
    ]);
    const [proof] = prove(model, { tolerance: 1e-4, relative: 0 });
    expectWithin(proof!.least!.gap, 0.018, { absolute: 1e-7 });
    expect(proof!.least!.proven).toBeGreaterThan(0.0179);
    expect(proof!.evaluations).toBeLessThan(20);
  });

  test('first contact is where a falling rod meets a ball', () => {
    // Rod along +x, radius r; ball of radius R at distance D at angle φ: they touch when D sin(φ − θ) = r + R.
    const [r, R, D, phi] = [0.01, 0.03, 0.5, 1.2];
    const model = withShapes(linkageModel(arm([0, 0, 1], 2.5)), [
      rod('arm', [0, 0, 0], [0.9, 0, 0], r),
      rod('base', [D * Math.cos(phi), D * Math.sin(phi), 0], [D * Math.cos(phi), D * Math.sin(phi), 0], R),
    ]);
    const [proof] = prove(model);
    expectWithin(proof!.firstContact!.at, phi - Math.asin((r + R) / D), { absolute: 1e-5 });
    expect(proof!.least!.proven).toBe(-Infinity);
  });

  test('stops at the largest number of evaluations with bounds that still hold', () => {
    const model = foldingBicycle();
    const full = prove(model),
      short = prove(model, { budget: 300 });
    for (let i = 0; i < full.length; i++) {
      const loose = short[i]!.byBodies;
      for (const b of full[i]!.byBodies) {
        const same = loose.find((x) => x.bodies[0] === b.bodies[0] && x.bodies[1] === b.bodies[1])!;
        expect(same.proven).toBeLessThanOrEqual(b.gap);
      }
    }
    expect(short.some((p) => !p.complete && p.reason.includes('largest number'))).toBe(true);
  });

  test('scaling all lengths scales every clearance', () => {
    const at = (k: number): SegmentProof => {
      const model = withShapes(linkageModel(arm([0, 0.1, 1], 2)), [
        rod('arm', [0.1 * k, 0, 0], [0.5 * k, 0, 0.02 * k], 0.01 * k),
        block('base', [-0.2 * k, 0.3 * k, 0.05 * k], [0.05 * k, 0.02 * k, 0.03 * k]),
        wheel('base', [-0.3 * k, 0.1 * k, -0.1 * k], 0.1 * k, 0.01 * k),
      ]);
      return prove(model, { tolerance: 1e-4 * k, relative: 0, care: k })[0]!;
    };
    const one = at(1),
      three = at(3);
    expectWithin(three.least!.gap, 3 * one.least!.gap, { absolute: 1e-8 });
    expectWithin(three.least!.at, one.least!.at, { absolute: 1e-8 });
  });
});

describe('a loop', () => {
  const barred = (drive: string, to: number): LinkageModel =>
    withShapes(
      fourBar({ drive, to }),
      [
        rod('rear', [0.36, 0, 0.34], [0.34, 0, 0.54], 0.02),
        rod('lower', [0.45, 0, 0.315], [0.73, 0, 0.405], 0.02),
        rod('upper', [0.38, 0, 0.587], [0.7, 0, 0.633], 0.015),
        rod('front', [0.772, 0, 0.47], [0.758, 0, 0.59], 0.018),
        wheel('rear', [0, 0.01, 0.2], 0.2, 0.02),
        wheel('front', [1.1, 0, 0.2], 0.2, 0.02),
        rod('front', [0.8, 0.03, 0.5], [1.1, 0.03, 0.24], 0.01),
      ],
      [
        ['lower', 'front'],
        ['upper', 'front'],
        ['rear', 'lower'],
        ['rear', 'upper'],
      ],
    );

  test.each([
    ['a', 25 * DEG],
    ['a', -20 * DEG],
    ['d', 20 * DEG],
  ])('driven at %s by %d rad: the proof holds at 2000 postures in between', (drive, to) => {
    const draft = barred(drive, to);
    const plan = planFold(draft.m, draft.s);
    // The fixture holds joint a by a latch and d by the loop; only a is released.
    expect(plan.segments[0]!.kind).toBe('loop');
    const [proof] = prove(draft);
    expectProof(proof!, sampled(draft, 0, 2000), { drive, to });
  });

  test('a contact on the way is found where dense sampling finds it', () => {
    const free = barred('a', 60 * DEG);
    const plan = planFold(free.m, free.s);
    const here = { ...free.s, q: free.s.q.slice(), bodyT: free.s.bodyT.slice() };
    const ws = newLinkageWorkspace(free.m.top);
    // The front wheel's centre on its way, and a ball that its rim reaches 20 mm before the end.
    const centre = (u: number): Vec3 => {
      poseAlong(free.m, plan, 0, u * plan.segments[0]!.reached, here, ws);
      return movePoint(here.bodyT, 12 * free.m.top.names.bodies.indexOf('front'), [1.1, 0, 0.2]);
    };
    const end = centre(1);
    const way = unit(sub(end, centre(0.9)));
    const ball = add(end, scale(way, 0.2 + 0.015 - 0.02));
    const draft = withShapes(fourBar({ drive: 'a', to: 60 * DEG }), [
      wheel('front', [1.1, 0, 0.2], 0.2, 0.02),
      rod('rear', ball, ball, 0.015),
    ]);
    const [proof] = prove(draft);
    expect(sampled(draft, 0, 4000)).toBeLessThan(0);
    const posed = newPosedShapes(draft.m.top);
    const out = newClash();
    let at = 0;
    for (; at <= 4000; at++) {
      poseAlong(draft.m, plan, 0, (at / 4000) * plan.segments[0]!.reached, here, ws);
      poseShapes(draft.m.top, { ...draft.s, q: here.q, bodyT: here.bodyT }, posed);
      clash(draft.m.top, posed, out);
      if (out.gap <= 0) break;
    }
    const step = (60 * DEG * plan.segments[0]!.reached) / 4000;
    expectWithin(proof!.firstContact!.at, at * step - step / 2, { absolute: step });
  });
});

describe('sweeps', () => {
  test('a chainring that cuts a tube in the ride posture is found at once', () => {
    const cut = foldingBicycle();
    expect(crankSweep(cut.m, cut.s)!.firstContact).toBeUndefined();
    const o = 7 * cut.m.top.shapeBody.indexOf(0);
    const s = { ...cut.s, capsule: cut.s.capsule.slice() };
    // The right stay (third and fourth rods of the rear) moved out by 10 mm cuts the 6 mm ring at y = −45 mm.
    for (const c of [1, 4]) s.capsule[o + 7 * 3 + c]! += 0.01;
    expect(crankSweep(cut.m, s)!.firstContact!.at).toBe(0);
  });

  test('a pedal that meets a frame part once a turn is found', () => {
    const model = withShapes(
      linkageModel({
        bodies: ['rear', 'cranks'],
        joints: [
          { name: 'cranks', kind: 'pivot', held: 'none', between: ['rear', 'cranks'], at: [0, 0, 0], axis: [0, 1, 0] },
        ],
      }),
      [
        rod('cranks', [0, -0.08, 0], [0.17, -0.1, 0], 0.01),
        block('cranks', [0.17, -0.15, 0], [0.045, 0.045, 0.015]),
        // A bracket whose near end lies 1 mm inside the circle that the pedal's far corner sweeps.
        rod('rear', [-0.223, -0.12, 0], [-0.4, -0.12, 0], 0.008),
      ],
    );
    const found = crankSweep(model.m, model.s)!;
    expect(found.least!.gap).toBeLessThanOrEqual(0);
    expect(Math.abs(found.firstContact!.at - Math.PI)).toBeLessThan(0.25);
  });

  test('steering is proven to both sides', () => {
    const model = withShapes(
      linkageModel({
        bodies: ['front', 'fork'],
        joints: [
          { name: 'steer', kind: 'steerer', held: 'none', between: ['front', 'fork'], at: [0, 0, 0], axis: [0, 0, 1] },
        ],
      }),
      [rod('fork', [0, 0, 0.3], [0, 0.3, 0.3], 0.012), rod('front', [-0.25, 0, 0.3], [-0.25, 0, 0.2], 0.02)],
    );
    const m = { ...model.m, top: { ...model.m.top, steerPairs: model.m.top.pairs } };
    const [left, right] = steerSweep(m, model.s)!;
    expect(left.to).toBe(FREE_STEER_rad);
    expectWithin(right.to, -FREE_STEER_rad, { absolute: 0 });
    // Turning left (counterclockwise from above) takes the +y grip back to −x: 30° short of the post at 60°.
    expectWithin(left.least!.gap, 0.25 * Math.sin(30 * DEG) - 0.032, { absolute: 1e-6 });
    expect(left.least!.at).toBe(FREE_STEER_rad);
    expect(left.firstContact).toBeUndefined();
    expect(right.least!.gap).toBeGreaterThan(left.least!.gap);
    // At a right angle it hits.
    expect(steerSweep(m, model.s, Math.PI / 2)![0].firstContact).toBeDefined();
  });

  test('a candidate without cranks or steerer has no sweeps', () => {
    const model = linkageModel(arm([0, 0, 1], 1));
    expect(crankSweep(model.m, model.s)).toBeUndefined();
    expect(steerSweep(model.m, model.s)).toBeUndefined();
  });
});
