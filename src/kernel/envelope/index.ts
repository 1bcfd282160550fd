export { clash, leastBetweenBodies, newClash } from './clash.ts';
export type {
  BodiesGap,
  Clash,
  FirstContact,
  LeastAlong,
  ProofOptions,
  SegmentProof,
} from './clash-types.ts';
export { boxAlong, boxAxes, type FoldBox, newFoldBox } from './fold-box.ts';
export { gapBetween } from './gap.ts';
export { newPosedShapes, type PosedShapes, poseShapes, refreshBounds } from './posed-shapes.ts';
export { provePath } from './prove-path.ts';
export { packShape, type ShapeDistance, type SolidShape, shapeDistance } from './shape-distance.ts';
export { crankSweep, FREE_STEER_rad, steerSweep } from './sweeps.ts';
