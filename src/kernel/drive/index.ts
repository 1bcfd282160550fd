export {
  ADHESION,
  ADHESION_RANGE,
  BRAKE_TESTS,
  type BrakePlace,
  type BrakeTest,
  type BrakeWheels,
  BUILD_UP,
  type Deceleration,
  mostDeceleration,
  REACTION,
  type Stop,
  stopFrom,
  testDeceleration,
} from './braking.ts';
export { type CrankLoad, crankLoad, PEAK_OVER_MEAN } from './crank-load.ts';
export { BELT_EFFICIENCY, CHAIN_EFFICIENCY, driveEfficiency, HUB_GEAR_EFFICIENCY } from './efficiency.ts';
export {
  AIR_FREE,
  AIR_WITH_APPROVAL,
  type AirTravel,
  type Assist,
  airTravel,
  assistAt,
  batteryRange,
  COLD_SHARE,
  LEGAL_RULES,
  type LegalRegion,
  type LegalRule,
  type LegalVerdict,
  legalVerdicts,
  MOTOR_EFFICIENCY,
  type MotorFigures,
  USABLE_SHARE,
  USUAL_ASSIST,
} from './electric.ts';
export { cadenceAt, type Gear, type GearSet, type GearTrain, gearSet, nearestGear, USUAL_CADENCE } from './gears.ts';
export { HUB_RATIOS } from './hub-gears.ts';
export {
  beltWheel,
  type Centres,
  CHAIN_PITCH,
  CHAIN_WEAR,
  centresFor,
  chainWheel,
  type Loop,
  type LoopWheel,
  lineAngle,
  loopAround,
  pitchesFor,
  pitchRadius,
  pulley,
  sagOf,
  teethInMesh,
} from './loop.ts';
export { type LoopInFold, type LoopPlace, loopInFold, TWISTED } from './loop-in-fold.ts';
export {
  type Helped,
  LEAST_RIDING_SPEED,
  pushingSpeed,
  RIDER_POWER,
  type Ridden,
  ridden,
  UPRIGHT_DRAG,
} from './rider-power.ts';
export {
  AIR_DENSITY,
  airSpeed,
  BEARING_DRAG,
  type RoadLoad,
  type RoadPower,
  roadForce,
  roadPower,
  type SpeedChange,
  slopeOf,
} from './road-power.ts';
export { type RoadSpeed, roadSpeed } from './road-speed.ts';
export {
  ROLLING_DEFAULT,
  ROLLING_EXPONENT,
  ROLLING_TYRE_SPREAD,
  type RollingResistance,
  rollingBySize,
  sharedRolling,
} from './rolling.ts';
export { increasingRoot, type Root } from './root.ts';
export { rollingRadius, rollOut, tyreDiameter } from './wheel-size.ts';
