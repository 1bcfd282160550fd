export { bodyRates, RATE_SIZE } from './body-rates.ts';
export {
  type Chain,
  carriedBodies,
  childBodies,
  jointCount,
  type Posture,
  poseBodies,
  postureLike,
  sideOf,
  spanningChain,
} from './chain.ts';
export { type ClosureOptions, closeLoops, SHARPEST } from './close-loops.ts';
export { driveSystem } from './drive-system.ts';
export {
  type FoldPlan,
  type FoldProblem,
  type FoldProblemKind,
  type FoldSegment,
  FREEDOM,
  planFold,
  ridingFreedom,
} from './fold-plan.ts';
export { type Conditioning, conditioning, ratesOf } from './follower-rates.ts';
export { measureJoint } from './joint-value.ts';
export { columnSpectrum, dampedScratch, dampedStep, rankOf, type Spectrum } from './least-squares.ts';
export {
  type ClosureReason,
  type ClosureReport,
  closureResidual,
  LINK_LENGTH_M,
  type LinkageWorkspace,
  type LoopSystem,
  newLinkageWorkspace,
} from './loop-system.ts';
export { type Mobility, mobilityCount, mobilityRank, RANK_SHARE } from './mobility.ts';
export { followerRates, poseAlong, poseFolded } from './pose-along.ts';
export {
  movesWhenReleased,
  type ReleasedMotion,
  type RidingRigidity,
  rigidWhenLocked,
} from './rigid-when-locked.ts';
export { poseOnTrace, SINGULAR_SHARE, type SingularPlace, type Trace, traceLoop, type Way } from './trace-loop.ts';
