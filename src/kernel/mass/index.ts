export { type AxleReadings, type BenchCom, comFromAxles } from './bench.ts';
export { BAG_SIZE, luggageMass } from './luggage.ts';
export { combine, type Inertia, inertiaAbout, moved, NOTHING, type RigidMass } from './rigid-mass.ts';
export { type SectionShape, type SectionSpread, sectionAxes, sectionSpread } from './section.ts';
export { axisymmetric, boxMass, discMass, hoopMass, pointMass, principalInertia, rodMass } from './shapes.ts';
export {
  type BodyMass,
  type ElementMass,
  MASS_SIZE,
  type MassBuffer,
  type MassShare,
  type MassTotals,
  massInto,
  massTotals,
  newMassBuffer,
  rigidAt,
} from './totals.ts';
export {
  type Bend,
  type Developed,
  developedLength,
  memberMass,
  type TubeSection,
  tubeMass,
  writeMemberMass,
} from './tube.ts';
export {
  applyWeighed,
  grownMass,
  MASS_GROWTH,
  type Maturity,
  scaleMasses,
  type Weighed,
  type Weighing,
  type WeighingCheck,
} from './weighed.ts';
export { type SpokedWheelInertia, type SpokedWheelMake, spokedWheelInertia } from './wheel.ts';
