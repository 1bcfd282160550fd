export {
  cyclesAtRange,
  FATIGUE_CODES,
  type FatigueCode,
  type FatigueCurve,
  type FatigueCurveSpec,
  type FatigueLeg,
  fatigueCurve,
  LEAST_CYCLES,
  rangeAtCycles,
} from './curve.ts';
export {
  type HotSpotFactors,
  type HotSpotRange,
  hotSpotRange,
  hotSpotStress,
  type NominalStress,
  type SideFactors,
  type TeeJoint,
  teeHotSpotFactors,
} from './hot-spot.ts';
export {
  type BareMetal,
  bareAmplitude,
  bareCycles,
  effectiveRange,
  goodmanAmplitude,
  goodmanReserve,
  type StressSwing,
  swtAmplitude,
} from './mean-stress.ts';
export { MIL_LINES, type MilLife, type MilLine, MPA_PER_KSI, milCycles, milLine, milStress } from './mil-lines.ts';
export { type FatigueBlock, type MinerDamage, minerDamage, minerLife, type UnderCutOff } from './miner.ts';
export { FatigueRefusal } from './refusal.ts';
export {
  calibrationFromTest,
  FATIGUE_CAUTION,
  type FatigueCalibration,
  type FatigueReserve,
  type FatigueUse,
  fatigueReserve,
  rankReserves,
  reserveWords,
} from './reserve.ts';
export {
  criticalDamage,
  type FatigueSpectrum,
  type SpectrumDamage,
  type SpectrumEntry,
  spectrumDamage,
} from './spectrum.ts';
