export { ageLock, FOLDS, freeAngle, type LockAge, type LockWhenNew, type Wear } from './ageing.ts';
export { type JointBranch, type JointedSolution, type JointOptions, solveWithJoints } from './contact.ts';
export {
  type Branch,
  isLinearLaw,
  type LawSegment,
  type LawSummary,
  lawForce,
  lawMotion,
  lawSegments,
  segmentAt,
  summariseLaw,
} from './joint-law.ts';
export { type Looseness, looseness, withoutPlay, withoutPreload } from './looseness.ts';
export {
  type Cam,
  closeLatch,
  handleTravel,
  inSeries,
  type LatchFigures,
  type LatchMechanism,
  openingMoment,
  type PastCentre,
  type Plunger,
  pastCentre,
  plungerPreload,
  preloadFromHand,
  type Screw,
  screwArm,
  type Toggle,
  type Travel,
  type Wedge,
  wedgeIn,
  wedgeOut,
} from './mechanism.ts';
export {
  type DeflectionPart,
  type DeflectionShares,
  type DeflectionTarget,
  deflectionAt,
  deflectionShares,
} from './shares.ts';
