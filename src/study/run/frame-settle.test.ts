import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { quayside } from '../../../test/fixtures/quayside.ts';
import { runBox } from './box.ts';
import { runFold } from './fold.ts';
import { runFrame } from './frame.ts';
import {
  runFrameBlows,
  runFrameBuckling,
  runFrameFolded,
  runFrameJoints,
  runFramePlay,
  runFrameUse,
} from './frame-settle.ts';
import { runHandling } from './package.ts';

const w = quayside();
const { setting } = w;
const of = (id: string) => {
  const candidate = w.candidates.find((c) => c.id === id)!;
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  return { candidate, s, frame: runFrame(candidate, s, setting) };
};
const beam = of('side_beam');
/** Play that a clamp's own stiffness takes up moves loads a little even where no face opens: of the use, seen 0 to 3 %. */
const RATTLE = 0.05;
/** Both factors are accurate to 1 % each. */
const BUCKLING = 0.02;

describe('what opens the joints of a candidate', () => {
  const joints = runFrameJoints(beam.candidate, beam.s, beam.frame);
  it('comes nearest first, and says which case and state asks for it', () => {
    const margins = joints.openings.map((o) => o.margin);
    expect(margins).toEqual([...margins].sort((a, b) => a - b));
    for (const o of joints.openings) {
      expectWithin(o.margin, o.opensAt / o.asked, { relative: 1e-12 });
      const c = beam.frame.cases.get(o.frameCase)!;
      expect(c.frameCase.kind).toBe('service');
      expect(c.loads.labels).toContain(o.state);
    }
  });
  it('doubles with the preload', () => {
    const slot = beam.candidate.hardware[beam.candidate.model.top.names.joints.indexOf('bar_hinge')]!.preload;
    const s = beam.candidate.model.newState();
    beam.candidate.model.fill(beam.candidate.model.x, s);
    s.value[slot] = 2 * s.value[slot]!;
    const tight = runFrameJoints(beam.candidate, s, runFrame(beam.candidate, s, setting));
    const margin = (list: typeof joints.openings): number => list.find((o) => o.joint === 'bar_hinge')!.margin;
    expectWithin(margin(tight.openings), 2 * margin(joints.openings), { relative: 1e-9 });
  });
  it('never ages a lock into a better one', () => {
    expect(joints.ages.length).toBeGreaterThan(0);
    for (const lock of joints.ages)
      for (const run of [lock.gentle, lock.usual, lock.hard])
        for (let i = 1; i < run.length; i++) {
          if (run[i]!.preload > 0) expect(run[i]!.preload).toBeLessThanOrEqual(run[i - 1]!.preload);
          expect(run[i]!.play).toBeGreaterThanOrEqual(run[i - 1]!.play);
        }
  });
});

describe('joints that open and rattle', () => {
  const { opened } = runFramePlay(beam.frame);
  it('change nothing in a case that opens none of them and shakes no play', () => {
    const tight = [...opened].filter(([, c]) => c.open.length === 0);
    expect(tight.length).toBeGreaterThan(0);
    for (const [id, c] of tight) expectWithin(c.use, beam.frame.cases.get(id)!.worst.use, { relative: RATTLE });
  });
});

describe('the least buckling factor', () => {
  it('stands above 1, and halves under twice the load', () => {
    const least = runFrameBuckling(beam.frame);
    expect(least.converged).toBe(true);
    expect(least.factor).toBeGreaterThan(1);
    const doubled = new Map(
      [...beam.frame.cases].map(([id, c]) => {
        const loads = c.loads.loads.map((v) =>
          v.map((l) => ({
            ...l,
            force: [2 * l.force[0], 2 * l.force[1], 2 * l.force[2]] as const,
            moment: [2 * l.moment[0], 2 * l.moment[1], 2 * l.moment[2]] as const,
          })),
        );
        return [id, { ...c, loads: { ...c.loads, loads } }] as const;
      }),
    );
    const twice = runFrameBuckling({ ...beam.frame, cases: doubled });
    expectWithin(twice.factor, least.factor / 2, { relative: BUCKLING });
    expect(twice.frameCase).toBe(least.frameCase);
  });
});

describe('a life of use', () => {
  it('leaves less reserve the longer it is, and its parts sum to the damage', () => {
    const once = runFrameUse(beam.frame, setting).worst!;
    expectWithin(
      once.parts.reduce((sum, p) => sum + p.share, 0),
      1,
      { relative: 1e-9 },
    );
    const longer = runFrameUse(beam.frame, { ...setting, loads: { ...setting.loads, use: { distance: 160_000 } } });
    expect(longer.distance_km).toBe(160_000);
    // eight times the cycles: between the slopes 3 and 9 of the curves the reserve falls to 1/2 … 1/1.26
    expect(longer.worst!.reserve / once.reserve).toBeLessThan(1 / 1.25);
    expect(longer.worst!.reserve / once.reserve).toBeGreaterThan(1 / 2.01);
  });
});

describe('blows', () => {
  it('leave no less set with first yield as the hinge than with the full plastic moment', () => {
    const blows = runFrameBlows(beam.frame);
    expect([...blows.keys()]).toContain('falling_mass');
    for (const [, b] of blows) expect(b.set[1]).toBeGreaterThanOrEqual(b.set[0]);
    // beyond the hinge every further millijoule goes into the set: twice the energy, more than twice the set
    const higher = beam.frame.cases.get('falling_mass')!;
    const { blow } = higher.loads;
    const twice = runFrameBlows({
      ...beam.frame,
      cases: new Map([
        ['falling_mass', { ...higher, loads: { ...higher.loads, blow: { ...blow!, energy: 2 * blow!.energy } } }],
      ]),
    }).get('falling_mass')!;
    const once = blows.get('falling_mass')!;
    expect(once.set[1]).toBeGreaterThan(0);
    expectWithin(
      (twice.set[1] - once.set[1]) *
        (beam.frame.cases.get('falling_mass')!.loads.blow!.reference / higher.worst.use - blow!.weight),
      blow!.energy,
      { relative: 1e-9 },
    );
  });
});

describe('somebody on the folded bicycle', () => {
  const sit = (id: string) => {
    const { candidate, s, frame } = of(id);
    const fold = runFold(candidate.model, s);
    const box = runBox(candidate.model, s, fold, new Float64Array(candidate.model.top.names.shapes.length));
    const { rest } = runHandling(candidate.model, box, setting).standing;
    return runFrameFolded(candidate, s, setting, frame, fold.plan, rest.up);
  };
  it('is carried by feet that press only: their forces balance the weight', () => {
    const seat = sit('four_bar');
    const [solution] = seat.result.solutions;
    const own = seat.model.built.structure.joints.length;
    const feet = seat.result.loads.fixtures.filter((f) => f.name.startsWith('foot'));
    const up = feet.map((_, i) => -solution!.joint[6 * (own + i) + 2]!);
    for (const force of up) expect(force).toBeGreaterThan(-1e-3);
    const weight = seat.result.loads.loads[0]!.reduce((sum, l) => sum - l.force[2], 0);
    expectWithin(
      up.reduce((a, b) => a + b, 0),
      weight,
      { relative: 1e-6 },
    );
  });
  it('is told when the package tips under it', () => {
    expect(() => sit('swing_rear')).toThrow('tips over');
  });
});
