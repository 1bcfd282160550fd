import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { fourBar, linkageModel, pinnedTriangle, sideHinge } from '../../../test/fixtures/linkage-models.ts';
import { planFold } from './fold-plan.ts';

const Y = [0, 1, 0] as const;

describe('a plan', () => {
  test('of an open tree has one driven joint a segment and the bodies beyond it moving', () => {
    const { m, s, joint } = sideHinge();
    const plan = planFold(m, s);
    expect(plan.problems).toEqual([]);
    expect(plan.segments.map(({ kind, move, joint: j }) => ({ kind, move, j }))).toEqual([
      { kind: 'tree', move: 1, j: joint('cranks') },
      { kind: 'tree', move: 2, j: joint('main') },
      { kind: 'tree', move: 4, j: joint('seat') },
    ]);
    expect([...plan.segments[1]!.moving]).toEqual([0, 1, 1, 0, 0]);
    expect(plan.foldedQ[joint('seat')]).toBe(-0.28);
    expect(plan.segments[2]!.startQ[joint('main')]).toBe(plan.foldedQ[joint('main')]);
  });

  test('leaves the posture of the state alone', () => {
    const { m, s } = fourBar();
    s.q.fill(0.5);
    s.bodyT.fill(7);
    planFold(m, s);
    expect(s.q.every((v) => v === 0.5) && s.bodyT.every((v) => v === 7)).toBe(true);
  });

  test('of a four-bar has followers on the tree and one cut', () => {
    const { m, s, joint } = fourBar({ cut: 'c' });
    const [segment] = planFold(m, s).segments;
    expect(segment!.kind).toBe('loop');
    expect([...segment!.followers]).toEqual([joint('b'), joint('d')]);
    expect([...segment!.cuts]).toEqual([joint('c')]);
    expect([...segment!.moving]).toEqual([0, 1, 1, 1]);
  });

  test('opens a three-body loop at its pin and turns the rest as a tree', () => {
    const { m, s } = pinnedTriangle();
    const plan = planFold(m, s);
    expect(plan.problems).toEqual([]);
    expect(plan.segments.map((segment) => segment.kind)).toEqual(['tree', 'tree']);
  });
});

const kinds = (problems: readonly { kind: string }[]): string[] => problems.map((p) => p.kind);

describe('problems', () => {
  test('a joint is turned while its latch is closed', () => {
    const { m, s } = sideHinge([{ move: 'turn', joint: 'main', to: 1 }]);
    expect(planFold(m, s).problems).toEqual([{ kind: 'still_locked', severity: 'error', move: 0, joint: 0 }]);
  });

  test('a joint is turned after it was locked again', () => {
    const { m, s } = sideHinge([
      { move: 'release', joint: 'main' },
      { move: 'turn', joint: 'main', to: 1 },
      { move: 'lock', joint: 'main' },
      { move: 'turn', joint: 'main', to: 2 },
    ]);
    expect(planFold(m, s).problems).toEqual([{ kind: 'still_locked', severity: 'error', move: 3, joint: 0 }]);
  });

  test('a target lies outside the joint’s range', () => {
    const { m, s } = sideHinge([
      { move: 'release', joint: 'main' },
      { move: 'turn', joint: 'main', to: 3.5 },
    ]);
    const [problem] = planFold(m, s).problems;
    expect(problem).toMatchObject({ kind: 'out_of_range', move: 1, value: 3.5, low: 0 });
  });

  test('a move changes nothing; a lock that is not there is released; a slide is turned', () => {
    const { m, s } = sideHinge([
      { move: 'turn', joint: 'cranks', to: 0 },
      { move: 'release', joint: 'steer' },
      { move: 'release', joint: 'seat' },
      { move: 'release', joint: 'seat' },
      { move: 'turn', joint: 'seat', to: -0.1 },
    ]);
    expect(kinds(planFold(m, s).problems)).toEqual(['no_change', 'nothing_to_release', 'no_change', 'wrong_motion']);
  });

  test('a pin that is out is turned; and is to be put in where its halves are apart', () => {
    const { m, s } = pinnedTriangle([
      { move: 'release', joint: 'nose' },
      { move: 'turn', joint: 'nose', to: 0.3 },
      { move: 'turn', joint: 'top', to: 0.3 },
      { move: 'lock', joint: 'nose' },
    ]);
    const { problems } = planFold(m, s);
    expect(kinds(problems)).toEqual(['absent', 'lock_apart']);
    // The nose is 0.4061 m from the top pivot: a chord of 0.3 rad.
    const dx = 0.72 - 0.32;
    const dz = 0.55 - 0.62;
    expectWithin(problems[1]!.gap!, 2 * Math.sqrt(dx * dx + dz * dz) * Math.sin(0.15), { relative: 1e-12 });
  });

  test('a pin goes in again where its halves meet, and holds its loop', () => {
    const { m, s } = pinnedTriangle([
      { move: 'release', joint: 'nose' },
      { move: 'turn', joint: 'top', to: 0.3 },
      { move: 'turn', joint: 'top', to: 0 },
      { move: 'lock', joint: 'nose' },
      { move: 'turn', joint: 'top', to: 0.2 },
    ]);
    const { problems } = planFold(m, s);
    expect(kinds(problems)).toEqual(['loop_cannot_close']);
    expect(problems[0]).toMatchObject({ move: 4, value: 0 });
  });

  test('a triangle whose pin is in cannot be turned: it stops where it stands, with the gap that the target leaves', () => {
    const { m, s } = pinnedTriangle([{ move: 'turn', joint: 'foot', to: 0.5 }]);
    const plan = planFold(m, s);
    expect(kinds(plan.problems)).toEqual(['loop_cannot_close']);
    expectWithin(plan.problems[0]!.value!, 0, { absolute: 1e-6 });
    expect(plan.problems[0]!.gap).toBeGreaterThan(0.01);
  });

  test.each([
    ['stretched', 1.2],
    ['folded upon each other', -1.2],
  ])('a four-bar stops where links b–c and c–d are %s', (which, to) => {
    const { m, s, joint } = fourBar({ to });
    const plan = planFold(m, s);
    expect(kinds(plan.problems)).toEqual(['loop_cannot_close']);
    // Law of cosines in the triangle a, b, d, with |bd| = |cd| ± |bc|.
    const p = (name: string) => [s.joint[6 * joint(name)]!, s.joint[6 * joint(name) + 2]!] as const;
    const far = (x: string, y: string): number => {
      const [u, v] = [p(x), p(y)];
      return Math.sqrt((u[0] - v[0]) * (u[0] - v[0]) + (u[1] - v[1]) * (u[1] - v[1]));
    };
    const [ab, ad] = [far('a', 'b'), far('a', 'd')];
    const angle = (bd: number): number => Math.acos((ab * ab + ad * ad - bd * bd) / (2 * ab * ad));
    const dead = far('c', 'd') + (which === 'stretched' ? far('b', 'c') : -far('b', 'c'));
    // Located to 1e-7 rad; the two dead points are 0.07 rad apart in size.
    expectWithin(plan.problems[0]!.value!, angle(dead) - angle(far('b', 'd')), { absolute: 1e-6 });
  });

  test('followers that the driven joint does not determine are named', () => {
    const { m, s } = linkageModel({
      bodies: ['rear', 'one', 'two', 'three', 'four'],
      joints: [
        { name: 'a', kind: 'pivot', held: 'loop', between: ['rear', 'one'], at: [0, 0, 0], axis: Y },
        { name: 'b', kind: 'pivot', held: 'loop', between: ['one', 'two'], at: [0.1, 0, 0.4], axis: Y },
        { name: 'c', kind: 'pivot', held: 'loop', between: ['two', 'three'], at: [0.4, 0, 0.5], axis: Y },
        { name: 'd', kind: 'pivot', held: 'loop', between: ['three', 'four'], at: [0.6, 0, 0.3], axis: Y },
        { name: 'e', kind: 'pivot', held: 'loop', between: ['four', 'rear'], at: [0.5, 0, 0], axis: Y },
      ],
      fold: [{ move: 'turn', joint: 'a', to: 0.3 }],
    });
    const { problems } = planFold(m, s);
    expect(kinds(problems)).toEqual(['undetermined']);
    expect([1, 2, 3, 4]).toContain(problems[0]!.other);
  });

  test('a parallelogram is followed through its flat posture, which is reported as one where it may flip', () => {
    const { m, s } = linkageModel({
      bodies: ['rear', 'low', 'front', 'high'],
      joints: [
        { name: 'a', kind: 'pivot', held: 'latch', between: ['rear', 'low'], at: [0, 0, 0.3], axis: Y },
        { name: 'b', kind: 'pivot', held: 'loop', between: ['low', 'front'], at: [0, 0, 0.6], axis: Y },
        { name: 'c', kind: 'pivot', held: 'loop', between: ['front', 'high'], at: [0.4, 0, 0.6], axis: Y },
        { name: 'd', kind: 'pivot', held: 'loop', between: ['rear', 'high'], at: [0.4, 0, 0.3], axis: Y },
      ],
      fold: [
        { move: 'release', joint: 'a' },
        { move: 'turn', joint: 'a', to: 2.3 },
      ],
    });
    const plan = planFold(m, s);
    expect(plan.problems).toMatchObject([{ kind: 'may_flip', severity: 'caution', joint: 0 }]);
    expectWithin(plan.problems[0]!.value!, Math.PI / 2, { absolute: 1e-3 });
    // The coupler stays parallel: b undoes what a does; d follows a.
    [2.3, -2.3, 2.3, 2.3].forEach((value, j) => {
      if (j !== 2) expectWithin(plan.foldedQ[j]!, value, { absolute: 1e-9 }, j);
    });
  });

  test('a follower that leaves its own range is named with how far it went', () => {
    const { m, s, joint } = fourBar();
    const d = joint('d');
    const sweep = planFold(m, s).foldedQ[d]!;
    s.range.set([0, sweep / 2], 2 * d);
    const [problem] = planFold(m, s).problems;
    expect(problem).toMatchObject({ kind: 'follower_out_of_range', joint: joint('a'), other: d, high: sweep / 2 });
    expectWithin(problem!.value!, sweep, { relative: 1e-12 });
  });
});
