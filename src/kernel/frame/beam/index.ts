export type { SolveOptions } from './active.ts';
export { jointMotion, jointVectors } from './assembly.ts';
export { type BucklingOptions, type BucklingResult, frameBuckling } from './buckling.ts';
export { memberEndStiffness, memberForce, memberStiffness, pieceFrame } from './member-flexibility.ts';
export { frameSecondOrder, type SecondOrderResult } from './second-order.ts';
export { FRAME_RESIDUAL_LIMIT, type FrameSolver, frameSolver } from './solver.ts';
