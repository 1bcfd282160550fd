import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { fixtureModel } from '../../../test/fixtures/beam.ts';
import { jointAgeing } from './joint-ageing.ts';
import { jointLaws } from './joint-laws.ts';

const c = fixtureModel();
const s = c.model.newState();
c.model.fill(c.model.x, s);
const joint = (name: string) => c.model.top.names.joints.indexOf(name);

describe('ageing of a candidate’s lock', () => {
  it('starts from what the file says and loses more the harder it is used', () => {
    const ages = jointAgeing(c, s, joint('main'), { arm: 20, moment: 40_000 })!;
    expect(ages.principle).toBe('face_toggle');
    for (const run of [ages.gentle, ages.usual, ages.hard]) {
      expect(run.map((a) => a.folds)).toEqual([0, 5000, 20000]);
      expectWithin(run[0]!.preload, 2500, { relative: 1e-12 });
      expectWithin(run[0]!.freeAngle, (0.02 * Math.PI) / 180, { relative: 1e-12 });
    }
    expect(ages.gentle[2]!.preload).toBeGreaterThan(ages.usual[2]!.preload);
    expect(ages.usual[2]!.preload).toBeGreaterThan(ages.hard[2]!.preload);
    expect(ages.hard[2]!.play).toBeGreaterThan(ages.usual[2]!.play);
    expectWithin(ages.usual[0]!.margin, (2500 * 20) / 40_000, { relative: 1e-12 });
  });
  it('is unknown where nothing is known: bearings, and a lock without principle and preload', () => {
    for (const name of ['steering', 'cranks', 'bar_hinge']) expect(jointAgeing(c, s, joint(name))).toBeUndefined();
  });
  it('goes back into the laws of a worn joint', () => {
    const old = jointAgeing(c, s, joint('main'))!.usual[2]!;
    const worn = jointLaws(c, s, joint('main'), { preload: old.preload, play: old.freeAngle });
    const fresh = jointLaws(c, s, joint('main'));
    expectWithin(worn[5].preload! / fresh[5].preload!, old.preloadLeft, { relative: 1e-12 });
    expectWithin(worn[5].play!, old.freeAngle, { relative: 1e-12 });
    expect(worn[5].closed).toBe(fresh[5].closed);
  });
});
