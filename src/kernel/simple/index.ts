export { countSimple, type SimpleCounts } from './counts.ts';
