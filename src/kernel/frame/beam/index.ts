export { jointMotion, jointVectors } from './assembly.ts';
export { memberEndStiffness, memberForce, memberStiffness, pieceFrame } from './member-flexibility.ts';
export { FRAME_RESIDUAL_LIMIT, type FrameSolver, frameSolver, type SolveOptions } from './solver.ts';
