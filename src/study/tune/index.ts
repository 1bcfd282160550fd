export type { Curve, CurvePoint } from './curve.ts';
export { type SectionEdit, writeVariant } from './edit.ts';
export type { Gauge, LeftAlone, TubeGroup } from './gauges.ts';
export type { Binding, Figure, Obstacle, Weak } from './reasons.ts';
export { runToEnd } from './search.ts';
export {
  type HeldFigure,
  stiffnessQuantities,
  type Tuned,
  type TunedTubes,
  type TuneOptions,
  type Tuning,
  tune,
  USUAL_AGAINST,
} from './tune.ts';
