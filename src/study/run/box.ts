/**
 * The folded package and its box: one axis along the rear axle, the least area across it.
 *
 * Where joint hardware is only estimated, the box is computed as drawn, with the hardware at its largest (which is what may
 * be promised) and at its smallest.
 */
import {
  BOX_FINE,
  boxAlong,
  type FoldBox,
  type FoldedPackage,
  foldedPackage,
  grownSolid,
  type Model,
  newFoldBox,
  newPosedShapes,
  poseFolded,
  poseShapes,
  type Solid,
  type State,
  turnVector,
  type Vec3,
} from '#kernel';
import type { FoldResult } from './fold.ts';

export interface BoxResult {
  readonly folded: FoldedPackage;
  /** Direction of the rear axle in the package. */
  readonly axle: Vec3;
  readonly solids: { readonly nominal: Solid; readonly largest: Solid; readonly smallest: Solid };
  readonly box: FoldBox;
  readonly largest: FoldBox;
  readonly smallest: FoldBox;
  /** Unit directions and lengths (m): length is the longer side across the axle, width lies along it, height is the shorter side. */
  readonly axes: readonly [Vec3, Vec3, Vec3];
  readonly size: Vec3;
}

/** @param shares how much larger each shape may be than drawn (0.15), one per shape; 0 for those that are known. */
export function runBox(m: Model, s: State, fold: FoldResult, shares: Float64Array): BoxResult {
  const folded = foldedPackage(m, s, fold.plan);
  const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  poseFolded(m, fold.plan, here);
  const axle = turnVector(here.bodyT, 12 * m.wheels.rear.body, [0, 1, 0]);
  const estimated = shares.some((x) => x !== 0);
  const solids = {
    nominal: folded.solid,
    largest: estimated ? grownSolid(folded.solid, shares) : folded.solid,
    smallest: estimated
      ? grownSolid(
          folded.solid,
          shares.map((x) => -x),
        )
      : folded.solid,
  };
  const posed = newPosedShapes(m.top);
  poseShapes(m.top, here, posed);
  const boxOf = (solid: Solid): FoldBox => {
    const box = newFoldBox(m.top);
    posed.capsule.set(solid.capsule);
    posed.disc.set(solid.disc);
    posed.box.set(solid.box);
    boxAlong(posed, axle, box, BOX_FINE);
    return box;
  };
  const box = boxOf(solids.nominal);
  return {
    folded,
    axle,
    solids,
    box,
    largest: estimated ? boxOf(solids.largest) : box,
    smallest: estimated ? boxOf(solids.smallest) : box,
    ...named(box),
  };
}

function named(box: FoldBox): { axes: readonly [Vec3, Vec3, Vec3]; size: Vec3 } {
  const axis = (k: number): Vec3 => [box.axes[3 * k]!, box.axes[3 * k + 1]!, box.axes[3 * k + 2]!];
  const [l, h] = box.size[1]! >= box.size[2]! ? [1, 2] : [2, 1];
  return { axes: [axis(l), axis(0), axis(h)], size: [box.size[l]!, box.size[0]!, box.size[h]!] };
}
