export { type BracedRider, bracedRider, liftingDeceleration } from './braking.ts';
export { CASES_CAUTION, caseFigures, caseWith, FRAME_CASES, frameCase } from './case-list.ts';
export {
  BIKE_CLASSES,
  type BikeClass,
  CASE_IDS,
  type CaseFigure,
  type CaseId,
  CHECK_THE_STANDARD,
  type FigureValues,
  figureDefault,
  figureStanding,
  figureValues,
  isCaseId,
} from './figures.ts';
export {
  type CaseBlow,
  type CaseFinding,
  type CaseLoads,
  type CasePosture,
  type FrameCase,
  type FrameCaseKind,
  type LoadRange,
  type NotApplicable,
  UNLOADED,
} from './frame-case.ts';
export { type PedalTest, pedalTest } from './frame-tests.ts';
export { type LandingInput, type LandingMoment, type LandingResult, landOnTyres } from './landing.ts';
export { type BlowInput, type BlowResult, forceOfEnergy, plasticBlow } from './plastic.ts';
export {
  type HubMobility,
  inertiaRelief,
  mobilityAt,
  onWheels,
  type Resultant,
  resultant,
  type WheelForces,
} from './statics.ts';
export { impulseForce, type StepInput, type StepResult, type TyreSpring, tyreOnStep } from './tyre-on-step.ts';
export { USE_FIGURES, type UseEvent, type UseLoad, useSpectrum } from './use.ts';
