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
export { type QuarticEnd, quarticRoots } from './quartic.ts';
export { SteerRefusal } from './refusal.ts';
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
} from './whipple.ts';
