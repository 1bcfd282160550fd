export * from './analyse/index.ts';
export * from './beam/index.ts';
export * from './build/index.ts';
export * from './cases/index.ts';
export * from './check/index.ts';
export * from './fatigue/index.ts';
export * from './joint/index.ts';
export type { FrameContext, Lump, Places } from './places.ts';
export * from './section/index.ts';
export {
  type BeamMember,
  type BeamSection,
  type EndFlex,
  type FrameJoint,
  type FrameNode,
  type FrameSolution,
  type FrameStructure,
  type JointLaw,
  type LoadGroup,
  Mechanism,
  type NodeLoad,
  type Piece,
  type Support,
} from './structure.ts';
