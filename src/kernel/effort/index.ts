export { FIRST_TIME, type FoldTimes, ONE_HAND, timeToFold } from './fold-time.ts';
export { gripHeight, gripHeightOf, SHOE_HEIGHT } from './hand-height.ts';
export { type GraspPoint, graspPoints, type HandPlace, handPlaces } from './hand-place.ts';
export type { ElementKind, HandledStep, HandledTime, TimedElement } from './handed-time.ts';
export {
  FRICTION_DEFAULTS,
  frictionOf,
  type JointFriction,
  usualFriction,
  weighedFriction,
} from './joint-friction.ts';
export type { LockKind, LockWork } from './lock-work.ts';
export { MOTION_CODES, type Motion, type MotionLoad, motion, weightAllowance } from './motion-code.ts';
export { TMU_SECONDS } from './motion-times.ts';
export { type MoveForce, moveForces, type OneWay } from './move-force.ts';
export {
  BASIC_FORCES,
  type BasicForce,
  CONDITIONAL_SHARE,
  FORCE_KINDS,
  type ForceBand,
  type ForceKind,
  type ForceMultipliers,
  type ForceUse,
  type ForceUsers,
  forceBand,
  forceCap,
  forceMultipliers,
  RARE_HOLD,
  RARE_USE,
  RECOMMENDED_SHARE,
  type StrengthModel,
  shareAble,
  strengthModel,
} from './strength.ts';
