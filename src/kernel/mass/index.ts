export { combine, type Inertia, inertiaAbout, moved, NOTHING, type RigidMass } from './rigid-mass.ts';
export { type SectionShape, type SectionSpread, sectionAxes, sectionSpread } from './section.ts';
export { axisymmetric, boxMass, discMass, hoopMass, pointMass, rodMass } from './shapes.ts';
export {
  type Bend,
  type Developed,
  developedLength,
  memberMass,
  type TubeSection,
  tubeMass,
  writeMemberMass,
} from './tube.ts';
export { HOOP_SHARE, type SpokedWheelInertia, type SpokedWheelMake, spokedWheelInertia } from './wheel.ts';
