export { type CarryEdge, carryEdge } from './carry-edge.ts';
export {
  type CarryShare,
  type CarryWay,
  carryShare,
  enduranceSeconds,
  longestStretch,
  ONE_HAND_LIMIT,
  shareLasting,
} from './carry-strength.ts';
export {
  BODY_GAPS,
  type BodyPart,
  crushes,
  FINGER_GAP,
  fingerGaps,
  type HandZone,
  type HingeFace,
  type Pinch,
} from './finger-gap.ts';
export { type Meeting, type Meetings, newMeetings, STEP as MEETING_STEP } from './fold-meets.ts';
export { allDone, type FoldMotion, type FoldStates, foldStates } from './fold-states.ts';
export { FIRST_TIME, type FoldTimes, type MoveHold, ONE_HAND, timeToFold } from './fold-time.ts';
export { type ForgottenMove, forgottenMoves } from './forgotten.ts';
export { type HalfShut, type HalfShutState, halfShut, LOOKS_SHUT, openStandsOff } from './half-shut.ts';
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
export {
  type Coupling,
  frequencyMultiplier,
  LIFT_SIGMA,
  type Lift,
  type LiftEnd,
  type LiftLimit,
  type LiftLimits,
  type LiftOptions,
  liftLimits,
  MULTIPLIERS,
  type Multiplier,
  shareLifting,
} from './lifting.ts';
export type { LockKind, LockWork } from './lock-work.ts';
export { MOTION_CODES, type Motion, type MotionLoad, motion, weightAllowance } from './motion-code.ts';
export { TMU_SECONDS } from './motion-times.ts';
export { type MoveForce, moveForces, type OneWay } from './move-force.ts';
export {
  climbStairs,
  HUMAN_EFFICIENCY,
  LADEN_SPEED,
  LIGHT_WORK,
  REST_SECONDS,
  type StairClimb,
  UPKEEP,
  WALKING_SPEED,
  walkingPower,
} from './on-foot.ts';
export { type PackageLift, packageLift } from './package-lift.ts';
export { balancedUp, ROLLING_LEVER, type RollForce, rollForce } from './roll-force.ts';
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
export {
  MOST as MOST_MOTIONS,
  NEARLY,
  type OrderCause,
  type OrderCount,
  type OrderEnd,
  type WrongOrders,
  wrongOrders,
} from './wrong-orders.ts';
