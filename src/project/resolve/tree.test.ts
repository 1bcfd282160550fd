import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beyond, type Edge, jointsBetween, spanningTree, stillGroups } from './tree.ts';

const edge = (a: number, b: number, driven = false, pin = false): Edge => ({ a, b, driven, pin });
const groupsOf = (n: number, edges: Edge[]) => [...stillGroups(n, edges)];

describe('the spanning tree', () => {
  it('hangs bodies breadth first and cuts what closes a loop', () => {
    const tree = spanningTree(4, [edge(0, 1), edge(1, 2), edge(2, 3), edge(3, 0)]);
    expect([...tree.cuts]).toEqual([3]);
    expect([...tree.parent]).toEqual([-1, 0, 1, 2]);
    expect([...tree.order]).toEqual([0, 1, 2, 3]);
  });
  it('keeps joints that the fold drives in the tree, wherever they stand in the file', () => {
    const tree = spanningTree(4, [edge(0, 1), edge(1, 2), edge(2, 3), edge(3, 0, true)]);
    expect([...tree.cuts]).toEqual([2]);
    expect(tree.parentJoint[3]).toBe(3);
  });
  it('always cuts pins, and names bodies that only a pin holds', () => {
    const tree = spanningTree(3, [edge(0, 1), edge(1, 2, false, true)]);
    expect([...tree.cuts]).toEqual([1]);
    expect(tree.unconnected).toEqual([2]);
  });
  it('finds what lies beyond a joint, and the joints between two bodies', () => {
    const tree = spanningTree(5, [edge(0, 1), edge(1, 2), edge(1, 3), edge(0, 4)]);
    expect([...beyond(tree, 0)].sort()).toEqual([1, 2, 3]);
    expect(jointsBetween(tree, 2, 4).sort()).toEqual([0, 1, 3]);
    expect(jointsBetween(tree, 2, 3).sort()).toEqual([1, 2]);
    expect(jointsBetween(tree, 2, 2)).toEqual([]);
  });
  it('holds n − 1 joints of any connected set, each parent before its children', () => {
    const graph = fc.integer({ min: 2, max: 8 }).chain((n) =>
      fc.record({
        n: fc.constant(n),
        links: fc.tuple(...Array.from({ length: n - 1 }, (_, i) => fc.nat(i))),
        extra: fc.array(fc.tuple(fc.nat(n - 1), fc.nat(n - 1), fc.boolean()), { maxLength: 5 }),
      }),
    );
    fc.assert(
      fc.property(graph, ({ n, links, extra }) => {
        const edges = [
          ...links.map((parent, i) => edge(parent, i + 1)),
          ...extra.filter(([a, b]) => a !== b).map(([a, b, d]) => edge(a, b, d)),
        ];
        const tree = spanningTree(n, edges);
        expect(tree.unconnected).toEqual([]);
        expect(tree.cuts.length).toBe(edges.length - (n - 1));
        const place = Array.from({ length: n }, (_, b) => tree.order.indexOf(b));
        for (let b = 1; b < n; b++) expect(place[tree.parent[b]!]!).toBeLessThan(place[b]!);
      }),
    );
  });
});

describe('bodies that never move against one another in the fold', () => {
  it('are those that no driven joint parts', () => {
    expect(groupsOf(4, [edge(0, 1, true), edge(1, 2), edge(2, 3)])).toEqual([0, 1, 1, 1]);
  });
  it('do not include a loop with a driven joint: all its joints may move', () => {
    expect(groupsOf(4, [edge(0, 1, true), edge(1, 2), edge(2, 3), edge(3, 0)])).toEqual([0, 1, 2, 3]);
  });
  it('include a loop that no driven joint belongs to', () => {
    expect(groupsOf(5, [edge(0, 1), edge(1, 2), edge(2, 0), edge(2, 3, true), edge(3, 4)])).toEqual([0, 0, 0, 3, 3]);
  });
  it('include a loop that only touches a driven loop in one body', () => {
    const eight = [edge(0, 1, true), edge(1, 2), edge(2, 0), edge(0, 3), edge(3, 4), edge(4, 0)];
    expect(groupsOf(5, eight)).toEqual([0, 1, 2, 0, 0]);
  });
});
