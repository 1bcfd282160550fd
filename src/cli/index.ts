export { type Effects, type Output, processEffects } from './effects.ts';
export { EXIT } from './exit.ts';
export { run } from './run.ts';
