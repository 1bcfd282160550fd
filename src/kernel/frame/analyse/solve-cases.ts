/**
 * All linear load cases of one frame: cases that are held alike share one factorisation.
 *
 * Two groups are held alike when their supports and fixtures are the same in every number; service cases all are (one axle,
 * the bar kept straight), and so are the tests of one fork or bar.
 * Not here: what the cases are (cases/), stresses (`run-case.ts`).
 */
import type { FrameSolver } from '../beam/solver.ts';
import { frameSolver } from '../beam/solver.ts';
import type { FrameSolution, FrameStructure, LoadGroup } from '../structure.ts';

export interface SolvedGroups {
  readonly solver: FrameSolver;
  /** One list per group, in the order given: a solution per load vector. */
  readonly solutions: readonly (readonly FrameSolution[])[];
}

/** @throws Mechanism and RangeError as the solver does. */
export function solveGroups(structure: FrameStructure, groups: readonly LoadGroup[]): SolvedGroups {
  const solver = frameSolver(structure, groups);
  return { solver, solutions: solveAlike(solver, groups) };
}

/** The same with a solver at hand. */
export function solveAlike(solver: FrameSolver, groups: readonly LoadGroup[]): readonly (readonly FrameSolution[])[] {
  const shared = new Map<string, number[]>();
  groups.forEach((group, i) => {
    const key = heldBy(group);
    const list = shared.get(key);
    if (list) list.push(i);
    else shared.set(key, [i]);
  });
  const out: (readonly FrameSolution[])[] = new Array(groups.length);
  for (const indices of shared.values()) {
    const { supports, fixtures } = groups[indices[0]!]!;
    const solved = solver.solve({ supports, fixtures, loads: indices.flatMap((i) => groups[i]!.loads) });
    let from = 0;
    for (const i of indices) {
      const count = groups[i]!.loads.length;
      out[i] = solved.slice(from, from + count);
      from += count;
    }
  }
  return out;
}

/** Everything that holds a group, in one text. */
function heldBy({ supports, fixtures }: LoadGroup): string {
  let key = '';
  for (const s of supports) key += `${s.node}.${s.component}.${s.stiffness ?? ''};`;
  for (const f of fixtures) {
    key += `${f.name}|${f.from}|${f.to}|${f.at}|${f.axes}|`;
    for (const law of f.laws)
      key += `${law.closed},${law.open ?? ''},${law.opens ?? ''},${law.preload ?? ''},${law.play ?? ''};`;
  }
  return key;
}
