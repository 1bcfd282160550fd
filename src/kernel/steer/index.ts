export { type AssembledBicycle, type BicycleMasses, whippleFromBicycle } from './assemble.ts';
export { betweenIsoAndPaper, signBetweenIsoAndPaper } from './axes.ts';
export {
  type Characteristic,
  type Crossing,
  capsizeCrossings,
  capsizeSpeed,
  characteristic,
  eigenvalues,
  type Merge,
  mergeSpeed,
  weaveCrossings,
  weaveSpeed,
} from './characteristic.ts';
export { axisUp, headGeometry, type SteererAxis, type SteerGeometry, steerGeometry } from './geometry.ts';
export { type GripLever, gripLever, type HandForce, handForce } from './grips.ts';
export {
  LANE,
  LANE_RIDER,
  type LaneChange,
  type LaneRider,
  laneChange,
  lanePath,
} from './lane-change.ts';
export { LIKENESS_CAUTION, type Likeness, type LikenessBar, likeness, similarity } from './likeness.ts';
export { type LoadCase, pitchOver, type WheelLoads, type WorstPitchOver, wheelLoads, worstPitchOver } from './load.ts';
export {
  FIGURE_GROUPS,
  type FigureGroup,
  type HandlingFigure,
  type HandlingProfile,
  type HandlingSubject,
  handlingProfile,
  PROFILE_OPTIONS,
  type ProfileOptions,
} from './profile.ts';
export { type QuarticEnd, quarticRoots } from './quartic.ts';
export { SteerRefusal } from './refusal.ts';
export {
  type Gain,
  LINEAR_LEAN,
  rollRateGain,
  type SteadyTurn,
  type SteerStatics,
  steadyTurn,
  steerStatics,
} from './response.ts';
export {
  FRONT_LOAD_AT_LEAST,
  HEAD_ANGLE_LIMITS,
  INTERCEPT_LIMITS,
  type SteerRule,
  steerRules,
  trailForIntercept,
} from './rules.ts';
export {
  accelerationRows,
  inverseMass,
  type Matrix2,
  type WheelInertia,
  type WhippleBicycle,
  type WhippleSystem,
  type WhippleTerms,
  whipple,
  whippleCautions,
} from './whipple.ts';
