/**
 * The folded box as an interval: smallest, nominal and largest, where the size of joint hardware is only estimated.
 *
 * Shapes flagged `shapeEstimated` are taken with all their sizes scaled about their own centres by 1 − estimate, 1 and
 * 1 + estimate. Bodies that contain one another have boxes that do too, in any given orientation and hence at the best one:
 * the three volumes are in order and the truth lies between the outer two when every size is within its estimate.
 * Not here: hardware that is off centre by more than its estimate; probabilities.
 */
import type { Vec3 } from '../math/rigid.ts';
import type { Topology } from '../model/types.ts';
import { type BoxSearch, boxAlong, type FoldBox, newFoldBox } from './fold-box.ts';
import { newPosedShapes, type PosedShapes, refreshBounds } from './posed-shapes.ts';

export interface BoxInterval {
  readonly low: FoldBox;
  readonly nominal: FoldBox;
  readonly high: FoldBox;
  /** False when no shape is estimated: the three are then the same. */
  readonly estimated: boolean;
}

/** Writes `posed` with every estimated shape scaled by `factor` about its centre into `out`. */
export function scaleEstimated(
  top: Pick<Topology, 'shapeEstimated'>,
  posed: PosedShapes,
  factor: number,
  out: PosedShapes,
): void {
  out.capsule.set(posed.capsule);
  out.disc.set(posed.disc);
  out.box.set(posed.box);
  const { nCapsule, nDisc } = posed;
  top.shapeEstimated.forEach((flag, shape) => {
    if (flag === 0) return;
    if (shape < nCapsule) {
      const o = 7 * shape;
      for (let k = 0; k < 3; k++) {
        const p = posed.capsule[o + k]!,
          q = posed.capsule[o + 3 + k]!;
        out.capsule[o + k] = 0.5 * (p + q + factor * (p - q));
        out.capsule[o + 3 + k] = 0.5 * (p + q + factor * (q - p));
      }
      out.capsule[o + 6] = factor * posed.capsule[o + 6]!;
    } else if (shape < nCapsule + nDisc) {
      const o = 8 * (shape - nCapsule);
      out.disc[o + 6] = factor * posed.disc[o + 6]!;
      out.disc[o + 7] = factor * posed.disc[o + 7]!;
    } else {
      const o = 15 * (shape - nCapsule - nDisc);
      for (let k = 12; k < 15; k++) out.box[o + k] = factor * posed.box[o + k]!;
    }
  });
  refreshBounds(out);
}

/**
 * `boxAlong` as an interval. `estimate` is the half width of the estimate as a fraction (0.15 for 15 %), 0 or more and
 * below 1.
 * @throws RangeError for another estimate.
 */
export function boxAlongInterval(
  top: Pick<Topology, 'nCapsule' | 'nDisc' | 'nBox' | 'shapeEstimated'>,
  posed: PosedShapes,
  axis: Vec3,
  estimate: number,
  search?: BoxSearch,
): BoxInterval {
  if (!(estimate >= 0 && estimate < 1)) throw new RangeError(`estimate ${estimate} is not within 0 and 1`);
  const scaled = newPosedShapes(top);
  const boxAt = (factor: number): FoldBox => {
    const box = newFoldBox(top);
    scaleEstimated(top, posed, factor, scaled);
    boxAlong(scaled, axis, box, search);
    return box;
  };
  return {
    low: boxAt(1 - estimate),
    nominal: boxAt(1),
    high: boxAt(1 + estimate),
    estimated: estimate > 0 && top.shapeEstimated.includes(1),
  };
}
