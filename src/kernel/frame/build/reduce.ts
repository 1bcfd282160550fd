/**
 * What of the tied members bears load at all, and whether it hangs together.
 *
 * Not here: whether it is held (the solver names what can move).
 */
import type { Mark, Ties } from './connect.ts';

/** A part of a tube between two groups of things rigidly tied together, before the nodes have their numbers. */
export interface Edge {
  readonly a: number;
  readonly b: number;
  readonly tube: number;
  readonly from: Mark;
  readonly to: Mark;
  /** Far ends of the rigid parts of the tube before and after it, distances along it. */
  readonly rigid: readonly [number, number];
}

/** Takes away ends that carry nothing, one after the other, until none is left. */
export function prune<L extends { a: number; b: number }>(
  edges: readonly Edge[],
  links: readonly L[],
  needed: ReadonlySet<number>,
): { edges: Edge[]; links: L[]; groups: number[] } {
  const alive = { edges: [...edges], links: [...links] };
  for (;;) {
    const degree = new Map<number, number>();
    for (const { a, b } of [...alive.edges, ...alive.links])
      for (const g of [a, b]) degree.set(g, (degree.get(g) ?? 0) + 1);
    const loose = (g: number): boolean => degree.get(g)! < 2 && !needed.has(g);
    const before = alive.edges.length + alive.links.length;
    alive.edges = alive.edges.filter((e) => !loose(e.a) && !loose(e.b));
    alive.links = alive.links.filter((l) => !loose(l.a) && !loose(l.b));
    if (alive.edges.length + alive.links.length === before) {
      const groups = new Set([...alive.edges, ...alive.links].flatMap((x) => [x.a, x.b]));
      return { ...alive, groups: [...groups].sort((p, q) => p - q) };
    }
  }
}

/**
 * @param needed groups that places hang on: one that nothing ties to the rest is refused, not forgotten.
 * @throws RangeError where what bears load is in pieces.
 */
export function refuseApart(
  kept: { edges: readonly Edge[]; links: readonly { a: number; b: number }[]; groups: readonly number[] },
  needed: ReadonlySet<number>,
  ties: Ties,
  known: (group: number) => { readonly name: string; readonly body: number },
): void {
  const reached = new Set(kept.groups.slice(0, 1));
  for (let before = 0; before < reached.size; ) {
    before = reached.size;
    for (const { a, b } of [...kept.edges, ...kept.links])
      if (reached.has(a) || reached.has(b)) {
        reached.add(a);
        reached.add(b);
      }
  }
  const lost = [...kept.groups, ...needed].find((g) => !reached.has(g));
  if (lost === undefined) return;
  const { name, body } = known(lost);
  const own = new Set([...ties.tubes, ...ties.blocks].flatMap((m) => (m.body === body ? [m.name] : [])));
  const gap = ties.apart.find((x) => own.has(x.a));
  throw new RangeError(
    gap
      ? `${gap.a} and ${gap.b} belong to one body but lie ${gap.gap.toFixed(0)} mm apart: nothing in the file carries load between them`
      : `nothing carries load between ${name} and the rest of the frame`,
  );
}
