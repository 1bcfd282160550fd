import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { block, tube } from '../../../../test/fixtures/frame-parts.ts';
import type { Vec3 } from '../../math/rigid.ts';
import { BRIDGE, bridgeBodies, Ties, tieFreeEnds, tieMembers } from './connect.ts';
import type { FrameBlock, FrameTube } from './parts.ts';

const ROUNDOFF = { relative: 1e-12, absolute: 1e-9 };

function tied(
  tubes: readonly FrameTube[],
  blocks: readonly FrameBlock[] = [],
  held: readonly [number, 0 | 1][] = [],
): Ties {
  const ties = new Ties(tubes, blocks);
  tieMembers(ties);
  tieFreeEnds(ties, new Set(held.map(([t, end]) => ties.mark(t, end === 0 ? 0 : ties.lines[t]!.length).id)));
  bridgeBodies(ties);
  return ties;
}
/** What is tied together, in words, independent of order: `a@0 = b@120`. */
function groups(ties: Ties): string[] {
  const by = new Map<number, string[]>();
  const put = (item: number, word: string): void => {
    const g = ties.group(item);
    by.set(g, [...(by.get(g) ?? []), word]);
  };
  ties.blocks.forEach((b, i) => {
    put(ties.blockItem[i]!, b.name);
  });
  for (const m of ties.marks) put(m.id, `${ties.tubes[m.tube]!.name}@${m.s.toFixed(0)}`);
  return [...by.values()]
    .filter((words) => words.length > 1)
    .map((words) => words.sort().join(' = '))
    .sort();
}
const X = (from: number, to: number, y = 0, z = 0): readonly Vec3[] => [
  [from, y, z],
  [to, y, z],
];

describe('rule 1: blocks', () => {
  it('hold the ends inside them; the tube is rigid as far as it runs inside', () => {
    const ties = tied([tube('a', X(10, 300))], [block('lug', [0, 0, 0], [60, 50, 50])]);
    expect(groups(ties)).toEqual(['a@0 = lug']);
    expectWithin(ties.marksOf[0]![0]!.after, 20, ROUNDOFF);
    expect(ties.marksOf[0]![0]!.before).toBe(0);
  });
  it('hold a tube that runs through where it is nearest to their middle, rigid to both faces', () => {
    const ties = tied([tube('a', X(-200, 300))], [block('lug', [0, 5, 0], [60, 50, 50])]);
    expect(groups(ties)).toEqual(['a@200 = lug']);
    const [, mark] = ties.marksOf[0]!;
    expectWithin(mark!.before, 30, ROUNDOFF);
    expectWithin(mark!.after, 30, ROUNDOFF);
  });
  it('hold a tube whose wall touches a face, and not one that passes 3 mm off', () => {
    const lug = block('lug', [0, 0, -45], [60, 50, 50]);
    expect(groups(tied([tube('a', X(-200, 300)), tube('b', X(-200, 300, 200))], [lug]))).toContain('a@200 = lug');
    const apart = new Ties([tube('a', X(-200, 300, 0, 3))], [lug]);
    tieMembers(apart);
    expect(groups(apart)).toEqual([]);
  });
  it('that touch are one', () => {
    expect(groups(tied([], [block('a', [0, 0, 0], [60, 50, 50]), block('b', [59.5, 20, 0], [60, 50, 50])]))).toEqual([
      'a = b',
    ]);
  });
  it('of other bodies hold nothing', () => {
    expect(groups(tied([tube('a', X(10, 300))], [block('lug', [0, 0, 0], [60, 50, 50], 1)]))).toEqual([]);
  });
});

describe('rule 2: ends at one point', () => {
  it('are tied, whatever the angle', () => {
    const up = tube('up', [
      [300, 0, 0],
      [300, 0, 400],
    ]);
    expect(groups(tied([tube('a', X(0, 300)), up]))).toEqual(['a@300 = up@0']);
  });
});

describe('rule 3: an end on another tube’s wall', () => {
  const chord = tube('chord', X(0, 400));
  it('is welded to its centre line, rigid up to the wall that it comes out of', () => {
    // at 60°: 20 mm of wall over its sine
    const brace = tube(
      'brace',
      [
        [200, 0, 0],
        [200 + 100, 0, 100 * Math.sqrt(3)],
      ],
      { od: 30 },
    );
    const ties = tied([chord, brace]);
    expect(groups(ties)).toEqual(['brace@0 = chord@200']);
    expect(ties.welds).toEqual([{ tube: 1, end: 0, chord: 0, s: 200 }]);
    expectWithin(ties.marksOf[1]![0]!.after, 20 / (Math.sqrt(3) / 2), ROUNDOFF);
  });
  it('that is drawn up to the wall only has no rigid part, and one drawn beyond the axis has more', () => {
    const from = (z: number): number => {
      const ties = tied([
        chord,
        tube('brace', [
          [200, 0, z],
          [200, 0, 300],
        ]),
      ]);
      return ties.marksOf[1]![0]!.after;
    };
    expectWithin(from(20), 0, ROUNDOFF);
    expectWithin(from(8), 12, ROUNDOFF);
    expectWithin(from(-8), 28, ROUNDOFF);
  });
  it('near the other’s end goes to that end', () => {
    const brace = tube('brace', [
      [385, 0, 10],
      [385, 0, 300],
    ]);
    const ties = tied([chord, brace]);
    expect(groups(ties)).toEqual(['brace@0 = chord@400']);
    expect(ties.welds).toEqual([]);
  });
  it('between two equally near tubes is welded to both', () => {
    const brace = tube(
      'brace',
      [
        [200, 0, 0],
        [200, 0, 300],
      ],
      { od: 44 },
    );
    const ties = tied([tube('left', X(0, 400, 22)), tube('right', X(0, 400, -22)), brace]);
    expect(groups(ties)).toEqual(['brace@0 = left@200 = right@200']);
    expect(ties.welds).toHaveLength(2);
  });
});

describe('rule 4: free ends', () => {
  it('are tied to the member that their own wall reaches, without a bridge while the gap is a weld', () => {
    // lapped: 44 mm between centre lines, walls 4 mm apart
    const ties = tied([tube('a', X(0, 400)), tube('b', X(200, 500, 0, 44))]);
    expect(groups(ties)).toEqual(['a@200 = b@0', 'a@400 = b@200']);
    expect(ties.bridges).toEqual([]);
  });
  it('held by a joint are left alone', () => {
    const two = [
      tube('a', X(0, 400)),
      tube(
        'b',
        [
          [200, 0, 44],
          [200, 0, 400],
        ],
        { od: 20 },
      ),
    ];
    const ties = new Ties(two, []);
    tieMembers(ties);
    tieFreeEnds(ties, new Set([0, 1].flatMap((t) => ties.marksOf[t]!.map((m) => m.id))));
    expect(groups(ties)).toEqual([]);
  });
});

describe('rule 5: pieces', () => {
  const far = (gap: number): FrameTube[] => [
    tube('a', X(0, 400)),
    tube('b', [
      [200, -100, 40 + gap],
      [200, 100, 40 + gap],
    ]),
  ];
  it('are bridged where they are nearest, and the bridge is told', () => {
    const ties = tied(far(BRIDGE - 1));
    expect(groups(ties)).toEqual(['a@200 = b@100']);
    expect(ties.bridges).toHaveLength(1);
    expectWithin(ties.bridges[0]!.gap, BRIDGE - 1, ROUNDOFF);
    expect(ties.apart).toEqual([]);
  });
  it('farther apart stay apart, which is told as well', () => {
    const ties = tied(far(BRIDGE + 1));
    expect(groups(ties)).toEqual([]);
    expect(ties.apart).toMatchObject([{ a: 'a', b: 'b' }]);
  });
  it('that two members reach alike are bridged by both', () => {
    const stays = [tube('left', X(0, 400, 60)), tube('right', X(0, 400, -60))];
    const bow = tube('bow', [
      [0, 60, 0],
      [0, -60, 0],
    ]);
    const post = tube('post', [
      [200, 0, -100],
      [200, 0, 300],
    ]);
    expect(groups(tied([...stays, bow, post]))).toContain('left@200 = post@100 = right@200');
  });
});

/** Random plane and spatial frames near each other, so that every rule is met. */
const anyTubes = fc.array(
  fc.record({
    a: fc.tuple(fc.integer({ min: 0, max: 10 }), fc.integer({ min: -3, max: 3 }), fc.integer({ min: 0, max: 5 })),
    d: fc.tuple(fc.integer({ min: -4, max: 4 }), fc.integer({ min: -2, max: 2 }), fc.integer({ min: 1, max: 5 })),
    od: fc.constantFrom(20, 34, 50),
  }),
  { minLength: 2, maxLength: 6 },
);
// whole multiples of 37.3 and a shear, so that nothing is equally far by accident but what the mirror makes so
const grid = ([i, j, k]: readonly [number, number, number]): Vec3 => [
  37.3 * i + 0.11 * k,
  29.1 * j + 0.07 * i,
  41.7 * k,
];
const drawn = (
  list: readonly { a: [number, number, number]; d: [number, number, number]; od: number }[],
): FrameTube[] =>
  list.map(({ a, d, od }, i) => tube(`t${i}`, [grid(a), grid([a[0] + d[0], a[1] + d[1], a[2] + d[2]])], { od, t: 1 }));

describe('any frame', () => {
  it('is tied in the mirror as it is tied itself', () => {
    fc.assert(
      fc.property(anyTubes, (list) => {
        const tubes = drawn(list);
        const mirrored = tubes.map((t) => ({ ...t, points: t.points.map(([x, y, z]): Vec3 => [x, -y, z]) }));
        expect(groups(tied(mirrored))).toEqual(groups(tied(tubes)));
      }),
      { numRuns: 200 },
    );
  });
  it('is tied the same whatever the order of its tubes', () => {
    fc.assert(
      fc.property(anyTubes, fc.infiniteStream(fc.nat()), (list, keys) => {
        const tubes = drawn(list);
        const shuffled = tubes.map((t) => ({ t, key: keys.next().value as number })).sort((p, q) => p.key - q.key);
        expect(groups(tied(shuffled.map((x) => x.t)))).toEqual(groups(tied(tubes)));
      }),
      { numRuns: 200 },
    );
  });
});
