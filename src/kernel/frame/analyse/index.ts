export {
  type BandClamp,
  bandSlip,
  endWelds,
  type HingePin,
  type PinLoad,
  pinLoad,
  type WorstPlace,
  wallStrengths,
  worstWall,
  worstWeld,
} from './hand-checks.ts';
export { pointForces, type StressPoint, type StressPoints, stressPoints } from './points.ts';
export { type CaseResult, evaluateCase, rangeAt, type WorstRange, type WorstUse } from './run-case.ts';
export { type SolvedGroups, solveAlike, solveGroups } from './solve-cases.ts';
export {
  STIFFNESS_IDS,
  type StiffnessId,
  type StiffnessTest,
  stiffnessOf,
  stiffnessTest,
  workOf,
} from './stiffness.ts';
export type { DetailCurve, TubeStrength } from './strength.ts';
