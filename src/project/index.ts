export { nearestName } from './nearest.ts';
export type { Problem, ProblemCode } from './problems.ts';
