export {
  type ClearanceField,
  clearanceField,
  FAR,
  makeField,
  type NearestShape,
  type Obstacles,
  readField,
} from './clearance-field.ts';
export { FIT_CHANGES, type FitChange, type FitGain, fitChanges } from './fit-change.ts';
export type { FitGeometry } from './fit-geometry.ts';
export {
  type FitOfPublic,
  fitPublic,
  type KneeMeans,
  type MeanBody,
  type MissShare,
  missWords,
  ruleSpread,
} from './fit-population.ts';
export { FIT, FIT_STRIDE, fitRider, LEAST_AHEAD, tightPlaces } from './fit-rider.ts';
export type { TightPlace } from './leg-turn.ts';
export {
  FIT_FIGURES,
  type FitFigure,
  type FitKey,
  type FitLimits,
  fitLimits,
  MISS,
  MISSES,
  type MissKey,
} from './limits.ts';
export {
  aheadFromAbove,
  aheadToWheel,
  type PedalRoom,
  pedalLean,
  pedalToWheel,
  type TurningWheel,
} from './pedal-room.ts';
