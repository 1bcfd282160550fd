export {
  type CalcAnswer,
  type CalcProblem,
  CalcRefusal,
  type CalcTopic,
  calcSchemas,
  calcTopicNames,
  loadCalcTopic,
  runCalc,
} from './calc/index.ts';
export { CATALOGUE, findQuantity, type Quantity, quantitiesFor } from './catalogue.ts';
export { GENERAL_CAUTION } from './caution.ts';
export { type Choice, choose, type Standing as Rank } from './choose.ts';
export { type Cure, findCures, MOST_MISSES } from './cures.ts';
export { type Evaluation, evaluate, namesFor, type Plan, plan, readQuantity } from './evaluate.ts';
export { type Dependence, dependence, explain, type Sheet, substitute } from './explain.ts';
export {
  type Absent,
  type Discipline,
  type Family,
  type Input,
  idOf,
  isAbsent,
  type SlotNames,
  type Tier,
} from './family.ts';
export { figureText, limitText, numberText } from './figures.ts';
export { findings } from './findings.ts';
export { checkBrief, judge, type Ledger, type LedgerRow, unitFactor } from './judge.ts';
export type { Results } from './results.ts';
export type { BoxResult } from './run/box.ts';
export type { BurdenResult } from './run/burden.ts';
export type { EffortResult } from './run/effort.ts';
export type { FitResult } from './run/fit.ts';
export type { FoldResult } from './run/fold.ts';
export type { FoolproofResult } from './run/foolproof.ts';
export { TRADE_BANDS, type TradeBand } from './run/frame-bands.ts';
export { elasticEnds, type LinePoint, type MemberLine, memberLine } from './run/frame-line.ts';
export type { AgedLock, JointsResult, Opening } from './run/frame-settle.ts';
export type { StiffnessResult } from './run/frame-stiffness.ts';
export { type StifferJoint, stifferJoint } from './run/frame-what-if.ts';
export { jointOf, placeWords } from './run/frame-words.ts';
export { type HandledMove, type HandsResult, strengthAt } from './run/hands.ts';
export type { LikenessResult } from './run/likeness.ts';
export type { HandlingResult, StandIn, StowFit, StowResult } from './run/package.ts';
export type { PathResult } from './run/path.ts';
export type { PinchPlace } from './run/pinch.ts';
export { type EigenAt, eigenRows, type Seated, type SteerResult, seatOn, stationAt } from './run/steer.ts';
export type { LegKind, TripLeg, TripResult } from './run/trip.ts';
export { type LoadSetting, type Setting, type SpaceSetting, settingOf } from './setting.ts';
export {
  type Binding,
  type Curve,
  type CurvePoint,
  type Gauge,
  type HeldFigure,
  type LeftAlone,
  type Obstacle,
  runToEnd,
  type SectionEdit,
  stiffnessQuantities,
  type Tuned,
  type TunedTubes,
  type TuneOptions,
  type Tuning,
  tune,
  USUAL_AGAINST,
  writeVariant,
} from './tune/index.ts';
export { type Duel, duel, type Preference, score, worth } from './value.ts';
export { jointValue, moveNames, moveSentence } from './words.ts';
export { type Judged, judgeCandidate, judgeForChoice, openWorkspace, type Workspace } from './workspace.ts';
