import { describe, expect, it } from 'vitest';
import { COLUMN, FIT_STRIDE, MISS, measureOf, quantileOf, RIDER_STRIDE, ruleSpread } from '#kernel';
import { readDocument, resolveCandidate } from '#project';
import { expectWithin } from '../../../test/expect-within.ts';
import { quayside, quaysideText } from '../../../test/fixtures/quayside.ts';
import { kneesOn, peopleOf, runFit, runFitChange } from './fit.ts';

const w = quayside();
const setting = { ...w.setting, people: { ...w.setting.people, sample: 1500 } };
/** Fit of a quayside candidate with words of its file replaced. */
function fitOf(id: string, ...edits: readonly (readonly [from: string, to: string])[]) {
  let source = quaysideText(id);
  for (const [from, to] of edits) {
    expect(source, `${id} no longer says \`${from}\``).toContain(from);
    source = source.replaceAll(from, to);
  }
  const read = readDocument(`candidates/${id}.yaml`, source);
  const { candidate, problems } = resolveCandidate(read.document!, { id });
  if (!candidate) throw new Error(problems.map((p) => p.message).join('; '));
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  return { candidate, fit: runFit(candidate, s, setting) };
}
const missed = (fit: ReturnType<typeof runFit>, key: keyof typeof MISS): number =>
  fit.misses.find((m) => m.key === key)!.all.share;

describe('the public of quayside on its candidates', () => {
  it('loses riders by the knee with longer cranks, tall ones first', () => {
    const { fit: short } = fitOf('side_beam');
    const { fit: long } = fitOf(
      'side_beam',
      ['crankset 155', 'crankset 170'],
      ['crank_length: 155 mm', 'crank_length: 170 mm'],
    );
    expect(missed(long, 'knee')).toBeGreaterThan(missed(short, 'knee') + 0.1);
    // nobody whom a short crank leaves out by the knee is won by a longer one
    for (let i = 0; i < short.people.n; i++)
      if (short.riders[i * FIT_STRIDE]! & MISS.knee) expect(long.riders[i * FIT_STRIDE]! & MISS.knee).toBeTruthy();
    const inseam = measureOf(long.people, 'inseam');
    const median = quantileOf(inseam.slice().sort(), 0.5);
    expect(long.leftOut!.inseam).toBeGreaterThan(median);
  });

  it('loses tall riders with a shorter post, and no short ones', () => {
    const { fit: whole } = fitOf('side_beam');
    const { fit: cut } = fitOf('side_beam', ['travel: [-380 mm, 102 mm]', 'travel: [-380 mm, 40 mm]']);
    expect(missed(cut, 'post_short')).toBeGreaterThan(missed(whole, 'post_short') + 0.05);
    const lost = Array.from({ length: cut.people.n }, (_, i) => i).filter(
      (i) => cut.riders[i * FIT_STRIDE]! & MISS.post_short && !(whole.riders[i * FIT_STRIDE]! & MISS.post_short),
    );
    const inseam = (i: number): number => cut.people.value[i * RIDER_STRIDE + COLUMN.inseam]!;
    const saddle = 0.883 * Math.min(...lost.map(inseam));
    const { crank, saddle: at, rise } = cut.geometry;
    const x = at.x + at.high * rise.x - crank.x;
    const z = at.z + at.high * rise.z - crank.z;
    // the least of them needs a saddle above what the post reaches, tolerance included
    expect(saddle * (1 - cut.limits.saddle_tolerance)).toBeGreaterThan(Math.sqrt(x * x + z * z) - 1e-9);
  });

  it('fits more people the wider the limits are', () => {
    const { candidate } = fitOf('four_bar');
    const s = candidate.model.newState();
    candidate.model.fill(candidate.model.x, s);
    const with_ = (limits: typeof setting.people.limits) =>
      runFit(candidate, s, { ...setting, people: { ...setting.people, limits } }).fits.share;
    expect(with_({ ground_drop: 0 })).toBeLessThan(with_({ ground_drop: 0.04 }));
    expect(with_({ ground_drop: 0.04 })).toBeLessThan(with_({ ground_drop: 0.08 }));
  });

  it('names what is nearest to the knee: something that turns with the bar', () => {
    const { candidate, fit } = fitOf('side_beam');
    const knee = fit.tightest.find((t) => t.key === 'knee')!;
    const { names, shapeBody } = candidate.model.top;
    expect(['bar', 'fork']).toContain(names.bodies[shapeBody[knee.nearest.shape]!]);
    expect(Math.abs(knee.nearest.angle)).toBeGreaterThan(0.1);
  });

  it('draws the riders of a brief once, and the reference bends the same knees', () => {
    expect(peopleOf(setting)).toBe(peopleOf(setting));
    const city = w.project.candidates.find((c) => c.id === 'city')!;
    const s = city.model.newState();
    city.model.fill(city.model.x, s);
    const knees = kneesOn(city, setting)!;
    expectWithin(knees.kneeTop, runFit(city, s, setting).kneeTop, { absolute: 1e-12 });
  });

  it('says which change wins most riders, and no change loses more than it wins at the top of the list', () => {
    const { fit } = fitOf('side_beam', ['bar_height: 1030 mm', 'bar_height: 985 mm']);
    const { gains, sample } = runFitChange(fit);
    expect(sample).toBe(1000);
    expect(gains[0]!.key).toMatch(/^bar_(up|ahead)$/);
    expect(gains[0]!.won).toBeGreaterThan(gains[0]!.lost + 0.1);
  });

  it('is as uncertain as its own rules: widely where many come near to a limit, not at all where nobody does', () => {
    const spread = (limits: typeof setting.people.limits, of?: keyof typeof MISS) => {
      const { candidate } = fitOf('side_beam');
      const s = candidate.model.newState();
      candidate.model.fill(candidate.model.x, s);
      const fit = runFit(candidate, s, { ...setting, people: { ...setting.people, limits } });
      return { sigma: ruleSpread(fit, fit.limits, fit.people.n, of), fits: fit.fits.share };
    };
    expect(spread({}, 'toe').sigma).toBe(0);
    const here = spread({}, 'knee').sigma;
    // half of what the share does between the rule less and more by its own 10 mm
    const [low, high] = [spread({ knee_gap: 0.015 }).fits, spread({ knee_gap: 0.035 }).fits];
    expect(here).toBeGreaterThan(0.05);
    expectWithin(here, (low - high) / 2, { relative: 0.25 });
  });

  it('refuses a bicycle without cranks, and says why', () => {
    const { candidate } = fitOf('side_beam');
    const s = candidate.model.newState();
    candidate.model.fill(candidate.model.x, s);
    const model = { ...candidate.model, roles: { ...candidate.model.roles, crank: -1 } };
    expect(() => runFit({ ...candidate, model }, s, setting)).toThrow(/no crank/);
  });
});
