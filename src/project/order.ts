/**
 * Order in which named things can be computed, each after what it needs, and the cycles that prevent it.
 *
 * Depth-first search with its own stack (no recursion, so a chain of 100 000 is no trouble) in the order of the file.
 */
export interface Dependent {
  readonly name: string;
  readonly needs: readonly string[];
}

/**
 * Names in an order in which each comes after what it needs; needs that are not in the list are ignored. Each cycle is
 * given whole, `['a', 'b', 'a']`. What is on a cycle, or needs something that is, is not in `order`. Of cycles that
 * share members at least one is given.
 */
export function orderByDependency(items: readonly Dependent[]): { order: string[]; cycles: string[][] } {
  const needs = new Map(items.map((item) => [item.name, item.needs]));
  const state = new Map<string, 'open' | 'done' | 'stuck'>();
  const order: string[] = [];
  const cycles: string[][] = [];
  for (const { name: start } of items) {
    if (state.has(start)) continue;
    const stack = [{ name: start, next: 0, stuck: false }];
    state.set(start, 'open');
    while (stack.length > 0) {
      const top = stack.at(-1)!;
      const need = needs.get(top.name)![top.next];
      if (need === undefined) {
        state.set(top.name, top.stuck ? 'stuck' : 'done');
        if (!top.stuck) order.push(top.name);
        stack.pop();
        const below = stack.at(-1);
        if (below && top.stuck) below.stuck = true;
        continue;
      }
      top.next += 1;
      if (!needs.has(need)) continue;
      const seen = state.get(need);
      if (seen === undefined) {
        state.set(need, 'open');
        stack.push({ name: need, next: 0, stuck: false });
      } else if (seen === 'stuck') top.stuck = true;
      else if (seen === 'open') {
        top.stuck = true;
        const from = stack.findIndex((entry) => entry.name === need);
        cycles.push([...stack.slice(from).map((entry) => entry.name), need]);
      }
    }
  }
  return { order, cycles };
}
