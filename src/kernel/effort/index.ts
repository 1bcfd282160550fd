export { type GraspPoint, graspPoints, type HandPlace, handPlaces } from './hand-place.ts';
export type { ElementKind, HandledStep, HandledTime, TimedElement } from './handed-time.ts';
export { MOTION_CODES, type Motion, type MotionLoad, motion, weightAllowance } from './motion-code.ts';
export { TMU_SECONDS } from './motion-times.ts';
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
