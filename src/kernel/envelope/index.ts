export { type BoundedLeast, leastProved } from './bound-search.ts';
export { type CablePath, type CableResult, type FoldPosture, followCable } from './cable.ts';
export { type Carrying, carrying } from './carry.ts';
export { clash, leastBetweenBodies, newClash } from './clash.ts';
export type {
  BodiesGap,
  Clash,
  FirstContact,
  LeastAlong,
  ProofOptions,
  SegmentProof,
} from './clash-types.ts';
export { BOX_FINE, BOX_QUICK, type BoxSearch, boxAlong, boxAxes, type FoldBox, newFoldBox } from './fold-box.ts';
export {
  type FoldedPackage,
  foldCables,
  foldedPackage,
  type PackageHandling,
  type PackageModel,
  packageHandling,
} from './folded-package.ts';
export { gapBetween } from './gap.ts';
export {
  edgeFactor,
  type FoldedHolder,
  type Freedom,
  firstMomentRate,
  freedomBetween,
  HOLD_ASSUMPTIONS,
  type HoldAssumptions,
  type HoldMargin,
  type HoldResult,
  type HoldSituation,
  holdMargins,
  treeFreedom,
} from './hold.ts';
export { convexHull, type Hull, type HullFace, hullVolume } from './hull.ts';
export { type MinBox, minBox } from './min-box.ts';
export {
  type Approach,
  approachMargin,
  cornerMargin,
  ENTRY,
  type EntryKind,
  type RolledEntry,
  rolledEntry,
  SPACE_TOLERANCE,
} from './opening.ts';
export { pointDistance } from './point-distance.ts';
export { newPosedShapes, type PosedShapes, poseShapes, refreshBounds } from './posed-shapes.ts';
export { provePath } from './prove-path.ts';
export { AXLES_PARALLEL, type Rolling, rolling, wheelOf } from './roll.ts';
export { type Contact, contactsOn, type Rest, settle, TOUCHING } from './settle.ts';
export { packShape, type ShapeDistance, type SolidShape, shapeDistance } from './shape-distance.ts';
export {
  grownSolid,
  movedSolid,
  partOfSolid,
  type Solid,
  solidExtent,
  solidOf,
  solidReach,
  solidSupport,
} from './solid.ts';
export {
  type Attitude,
  attitudes,
  type FitOptions,
  fitPlace,
  fitPlaceInterval,
  type Place,
  type PlaceFit,
  type PlaceFitInterval,
} from './space.ts';
export { type Standing, slopeMargin, standing, type TipEdge, TYRE_PRINT, tipEdges, tipTowards } from './stand.ts';
export { crankSweep, FREE_STEER_rad, steerSweep } from './sweeps.ts';
