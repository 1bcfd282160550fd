/** Which shapes of a candidate nobody takes hold of: what is sharp, dirty, turns in the hand or would break. */
import { type FoldPlan, type HandPlace, handPlaces, type LinkageWorkspace, type State } from '#kernel';
import type { ResolvedCandidate } from '#project';

const NOT_HELD = new Set(['wheel', 'hub_gear', 'chain', 'brake', 'mudguard', 'bearing', 'fitting', 'castor']);

const known = new WeakMap<ResolvedCandidate, ReadonlySet<number>>();
/** Shape indices; hardware of joints and the crankset's ring among them. */
export function unheldShapes(candidate: ResolvedCandidate): ReadonlySet<number> {
  const before = known.get(candidate);
  if (before) return before;
  const out = new Set(candidate.parts.filter((p) => NOT_HELD.has(p.kind)).flatMap((p) => p.shapes));
  candidate.paths.shapes.forEach((path, i) => {
    if (path[0] === 'joints') out.add(i);
  });
  known.set(candidate, out);
  return out;
}

export const placesOf = (
  candidate: ResolvedCandidate,
  s: State,
  plan: FoldPlan,
  ws: LinkageWorkspace,
): readonly (HandPlace | undefined)[] => handPlaces(candidate.model, s, plan, unheldShapes(candidate), ws);
