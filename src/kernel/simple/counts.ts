/**
 * Simplicity as numbers: what a person must make, buy, adjust, operate and see moving.
 *
 * Definitions (ours; no standard counts these):
 * - bodies: rigid groups that can move against each other, the turning cranks not counted; a rigid bicycle with its fork has 2.
 * - moving joints: joints that the fold or a rider's setting moves; steerer and cranks not counted.
 * - visible moves: steps of the fold in which something changes place (turn, slide, lower).
 * - fold steps: all steps, releases and locks included.
 * - hand actions: actions on locks, each joint's own number for each release and each lock.
 * - distinct joints: joints named by the fold, a measure of how many places hands must find.
 * - adjustments, custom parts, bought parts, fasteners: as counted when the file was resolved.
 * Not here: time and force of the fold (`effort`), cost.
 */
import type { Model } from '../model/types.ts';

export interface SimpleCounts {
  readonly bodies: number;
  readonly movingJoints: number;
  readonly adjustments: number;
  readonly customParts: number;
  readonly boughtParts: number;
  readonly fasteners: number;
  readonly visibleMoves: number;
  readonly foldSteps: number;
  readonly handActions: number;
  readonly distinctJoints: number;
}

/** All counts of one candidate. They follow from its topology and procedure, not from its dimensions. */
export function countSimple(m: Pick<Model, 'top' | 'roles' | 'fold' | 'counts'>): SimpleCounts {
  const { top, roles, fold, counts } = m;
  let movingJoints = 0;
  for (let j = 0; j < top.kind.length; j++) if (j !== roles.steerer && j !== roles.cranks) movingJoints++;
  let visibleMoves = 0;
  let handActions = 0;
  for (const move of fold) {
    if (move.kind === 'release' || move.kind === 'lock') handActions += counts.jointActions[move.joint] ?? 0;
    else visibleMoves++;
  }
  return {
    bodies: top.bodyCount - (roles.cranksBody >= 0 ? 1 : 0),
    movingJoints,
    adjustments: counts.adjustments,
    customParts: counts.customParts,
    boughtParts: counts.boughtParts,
    fasteners: counts.fasteners,
    visibleMoves,
    foldSteps: fold.length,
    handActions,
    distinctJoints: new Set(fold.map((f) => f.joint)).size,
  };
}
