import { describe, expect, test } from 'vitest';
import {
  fourBar,
  type JointDraft,
  linkageModel,
  pinnedTriangle,
  sideHinge,
} from '../../../test/fixtures/linkage-models.ts';
import { newLinkageWorkspace } from './loop-system.ts';
import { type Mobility, mobilityCount, mobilityRank } from './mobility.ts';
import { movesWhenReleased, rigidWhenLocked } from './rigid-when-locked.ts';

/** A closed chain of pivots about y through points in the side plane. */
const planar = (points: readonly (readonly [number, number])[]): Mobility => {
  const bodies = points.map((_, i) => `body${i}`);
  const joints = points.map(
    ([x, z], i): JointDraft => ({
      name: `j${i}`,
      kind: 'pivot',
      held: 'none',
      between: [bodies[i]!, bodies[(i + 1) % bodies.length]!],
      at: [x, 0, z],
      axis: [0, 1, 0],
    }),
  );
  const { m, s } = linkageModel({ bodies, joints });
  return mobilityRank(m.top, s, new Uint8Array(joints.length).fill(1), newLinkageWorkspace(m.top));
};

describe('mobility by rank', () => {
  test('of a four-bar is one, of a triangle none, of a five-bar two', () => {
    expect(
      planar([
        [0, 0],
        [0, 0.3],
        [0.4, 0.5],
        [0.5, 0],
      ]),
    ).toMatchObject({ firstOrder: 1, finite: 1 });
    expect(
      planar([
        [0, 0],
        [0.2, 0.3],
        [0.5, 0],
      ]),
    ).toMatchObject({ firstOrder: 0, finite: 0 });
    expect(
      planar([
        [0, 0],
        [0, 0.3],
        [0.2, 0.6],
        [0.4, 0.5],
        [0.5, 0],
      ]),
    ).toMatchObject({ firstOrder: 2, finite: 2 });
  });

  test('does not read a dead position as mobile: three pivots in a line move only to first order', () => {
    expect(
      planar([
        [0, 0],
        [0.3, 0],
        [0.5, 0],
      ]),
    ).toMatchObject({ firstOrder: 1, finite: 0 });
  });

  test('reads a flat parallelogram, where two motions branch, as one', () => {
    expect(
      planar([
        [0, 0],
        [0.3, 0],
        [0.7, 0],
        [0.4, 0],
      ]),
    ).toMatchObject({ firstOrder: 2, finite: 1 });
  });

  test('marks the joints that move, the closing one included, and no others', () => {
    const { m, s, joint } = fourBar({ cut: 'c' });
    const free = new Uint8Array(4).fill(1);
    const ws = newLinkageWorkspace(m.top);
    expect([...mobilityRank(m.top, s, free, ws).moving]).toEqual([1, 1, 1, 1]);
    free[joint('a')] = 0;
    expect([...mobilityRank(m.top, s, free, ws).moving]).toEqual([0, 0, 0, 0]);
  });

  test('leaves the posture alone', () => {
    const { m, s } = fourBar();
    const before = [s.q.slice(), s.bodyT.slice()];
    mobilityRank(m.top, s, new Uint8Array(4).fill(1), newLinkageWorkspace(m.top));
    expect([s.q, s.bodyT]).toEqual(before);
  });
});

test('mobility by count: four-bar in the plane 1, in space −2; open chain the sum of its freedoms', () => {
  expect(mobilityCount(4, [1, 1, 1, 1], 3)).toBe(1);
  expect(mobilityCount(4, [1, 1, 1, 1])).toBe(-2);
  expect(mobilityCount(3, [1, 1])).toBe(2);
});

describe('rigid when locked', () => {
  test('a side hinge with its latch closed is, steerer and cranks excepted', () => {
    const { m, s } = sideHinge();
    expect(rigidWhenLocked(m, s)).toEqual({ rigid: true, freedoms: 0, loose: [], deadPosition: false });
  });

  test('a triangle whose pin is in is; one without a pin is not, and says which joints move', () => {
    const closed = pinnedTriangle();
    expect(rigidWhenLocked(closed.m, closed.s).rigid).toBe(true);
    const open = linkageModel({
      bodies: ['rear', 'seat', 'front'],
      joints: [
        { name: 'foot', kind: 'pivot', held: 'loop', between: ['rear', 'seat'], at: [0.4, 0, 0.3], axis: [0, 1, 0] },
        { name: 'top', kind: 'pivot', held: 'clamp', between: ['seat', 'front'], at: [0.3, 0, 0.6], axis: [0, 1, 0] },
      ],
    });
    expect(rigidWhenLocked(open.m, open.s)).toEqual({ rigid: false, freedoms: 1, loose: [0], deadPosition: false });
  });

  test('a four-bar whose only lock is missing moves in all its joints', () => {
    const { m, s } = fourBar();
    m.top.held.fill(3);
    expect(rigidWhenLocked(m, s)).toMatchObject({ rigid: false, freedoms: 1, loose: [0, 1, 2, 3] });
  });

  test('a pinned triangle with its pins in a line is rigid at a dead position only', () => {
    const { m, s } = pinnedTriangle();
    // top on the line from foot to nose
    s.joint.set([0.5, 0, 0.3 + (0.25 * 0.1) / 0.32], 6);
    expect(rigidWhenLocked(m, s)).toMatchObject({ rigid: true, deadPosition: true });
  });
});

describe('what moves when released', () => {
  test('everything in the side hinge, each from its own release on', () => {
    const { m, s } = sideHinge();
    const { moves, since } = movesWhenReleased(m, s);
    expect([...moves]).toEqual([1, 1, 1, 1]);
    expect([...since]).toEqual([1, 0, 4, 0]);
  });

  test('the pivots of a triangle only once the pin is out', () => {
    const { m, s } = pinnedTriangle();
    expect([...movesWhenReleased(m, s).since]).toEqual([1, 1, -1]);
    const locked = pinnedTriangle([{ move: 'turn', joint: 'foot', to: 0.2 }]);
    expect([...movesWhenReleased(locked.m, locked.s).moves]).toEqual([0, 0, 0]);
  });

  test('no joint of a triangle by releasing a clamp in it: its loop holds it still', () => {
    const { m, s } = linkageModel({
      bodies: ['rear', 'seat', 'front'],
      joints: [
        { name: 'foot', kind: 'pivot', held: 'loop', between: ['rear', 'seat'], at: [0.4, 0, 0.3], axis: [0, 1, 0] },
        { name: 'top', kind: 'pivot', held: 'loop', between: ['seat', 'front'], at: [0.3, 0, 0.6], axis: [0, 1, 0] },
        { name: 'nose', kind: 'pivot', held: 'clamp', between: ['rear', 'front'], at: [0.7, 0, 0.5], axis: [0, 1, 0] },
      ],
      fold: [{ move: 'release', joint: 'nose' }],
    });
    expect([...movesWhenReleased(m, s).moves]).toEqual([0, 0, 0]);
  });
});
