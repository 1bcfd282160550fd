export { shearCoefficient } from './shear-area.ts';
export {
  bendingStress,
  normalStressAt,
  type SectionStress,
  stressBound,
  worstRange,
  worstStress,
} from './stress.ts';
export { cellArea, cellLength, isSolid, torsionConstant, torsionModulus } from './torsion.ts';
export {
  beamSection,
  envelopeProperties,
  massPerMetre,
  type TubeProperties,
  type TubeSize,
  tubeProperties,
} from './tube-section.ts';
