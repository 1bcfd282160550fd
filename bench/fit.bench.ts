/**
 * Who fits: 10,000 riders drawn and fitted on one candidate (aim 100 ms), the parts of it, and the best single change. Real
 * candidates of examples/quayside; clearance fields are made anew every time, as for a bicycle under a dragging hand.
 */
import { drawPopulation, FIT_STRIDE, fitPublic } from '#kernel';
import { runFit, runFitChange } from '../src/study/run/fit.ts';
import { quayside } from '../test/fixtures/quayside.ts';
import { measure } from './measure.ts';

const N = 10_000;
const { candidates, setting } = quayside();
const people = { ...setting.people, sample: N };
measure(`${N} riders drawn`, () => drawPopulation(people, N, people.seed).value[7]!, { budget_ms: 1000 });
for (const candidate of candidates) {
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  // a setting of its own: riders are drawn once per brief
  const fresh = () => ({ ...setting, people: { ...people } });
  measure(`${candidate.id}: ${N} riders drawn and fitted`, () => runFit(candidate, s, fresh()).fits.share, {
    aim_us: 100_000,
    budget_ms: 2500,
  });
  const known = fresh();
  const fit = runFit(candidate, s, known);
  measure(`${candidate.id}: ${N} riders fitted`, () => runFit(candidate, s, known).fits.share, { budget_ms: 1500 });
  const riders = new Float64Array(N * FIT_STRIDE);
  measure(
    `${candidate.id}: ${N} riders, fields known`,
    () => fitPublic(fit.geometry, fit.limits, fit.people, riders).fits.share,
    { budget_ms: 1500 },
  );
  measure(`${candidate.id}: eleven changes, 1000 riders`, () => runFitChange(fit).gains[0]!.won, { budget_ms: 1500 });
}
