export {
  type BoltFriction,
  COARSE_PITCH,
  metricThread,
  PRELOAD_SCATTER,
  PROOF_STRESS,
  preloadFromTorque,
  type Thread,
  type TighteningArm,
  threadArm,
  tighteningArm,
  tighteningStress,
} from './bolt.ts';
export {
  type BoltedJoint,
  type BoltedState,
  boltedJoint,
  boltStiffness,
  clampedStiffness,
} from './bolted-joint.ts';
export { type ClampHold, clampHold, type PostClamp, slipUse, slitCollarForce } from './clamp.ts';
export { type Dent, dentForceEllinasWalker, dentForceWierzbickiSuh } from './dent.ts';
export { DUMMY_FORK_K, DUMMY_FORK_LOAD, dummyForkRatio, dummyForkStiffness } from './dummy-fork.ts';
export {
  aluminiumTubeClass,
  brazierMoment,
  type LocalBuckling,
  localBuckling,
  localBucklingUse,
  steelTubeClass,
  type WallMaterial,
} from './local-buckling.ts';
export {
  type Lug,
  type LugCurveStrength,
  type LugCurves,
  type LugGives,
  type LugStrength,
  lugByCurves,
  lugByHand,
  lugOblique,
} from './lug.ts';
export {
  type DoubleShearPin,
  type PinMaterial,
  type PinResistance,
  type PinStress,
  pinStress,
  pinUse,
} from './pin.ts';
export { CheckRefusal } from './refusal.ts';
export { roundOfEqualPerimeter, type TubeWallFlex, tubeWallFlex } from './tube-wall.ts';
export {
  aluminiumWeld,
  filletRing,
  steelWeld,
  type WeldStrength,
  type WeldStress,
} from './weld-throat.ts';
