/**
 * Property tests draw from a fixed seed, so that a run can be repeated and one that fails fails again. `FOLDWRIGHT_SEED=7 npm test`
 * draws others: do that after touching what they test.
 */
import fc from 'fast-check';

const seed = process.env['FOLDWRIGHT_SEED'];
fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: seed === undefined ? 20260101 : Number(seed) });
