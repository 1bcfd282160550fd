import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { linkageModel } from '../../../test/fixtures/linkage-models.ts';
import { planFold } from '../linkage/index.ts';
import type { BodyMass } from '../mass/index.ts';
import type { Vec3 } from '../math/index.ts';
import type { Holder, Model, State } from '../model/types.ts';
import { FIRST_TIME, type MoveHold, timeToFold } from './fold-time.ts';
import type { HandledTime } from './handed-time.ts';
import type { LockWork } from './lock-work.ts';

/** A sum of some twenty numbers of one decimal, times 0.036. */
const ROUNDOFF = { relative: 256 * EPS };
const HANGS = 0.8;
const mass = (name: string, kg: number, com: Vec3): BodyMass => ({
  name,
  mass: kg,
  sigma: 0,
  rigid: { mass: kg, com, inertia: [0, 0, 0, 0, 0, 0] },
});

/** A front half on an upright hinge at x 0.5 m, z 0.5 m, and a post that goes down by 0.3 m. */
function bicycle(kg: number, options: { holders?: readonly Holder[]; kind?: LockWork['kind']; place?: Vec3 } = {}) {
  const { m, s } = linkageModel({
    bodies: ['rear', 'front', 'seat'],
    joints: [
      { name: 'main', kind: 'pivot', held: 'latch', between: ['rear', 'front'], at: [0.5, 0, 0.5], axis: [0, 0, 1] },
      { name: 'post', kind: 'post', held: 'clamp', between: ['rear', 'seat'], at: [0.2, 0, 0.75], axis: [0, 0, 1] },
    ],
    fold: [
      { move: 'release', joint: 'main' },
      { move: 'turn', joint: 'main', to: Math.PI },
      { move: 'release', joint: 'post' },
      { move: 'lower', joint: 'post', to: -0.3 },
      { move: 'lock', joint: 'post' },
    ],
  });
  const wheel = (body: number, station: number) => ({ body, station, radius: 5 }) as Model['wheels']['front'];
  const model = {
    ...m,
    top: { ...m.top, names: { ...m.top.names, shapes: ['front.tube', 'saddle'] } },
    wheels: { rear: wheel(0, 0), front: wheel(1, 1) },
    holders: options.holders ?? [],
    standsOn: [],
    handle: { station: -1, body: -1 },
  };
  const state: State = {
    ...s,
    station: Float64Array.of(0, 0, 0.2, 1, 0, 0.2, 0.5, 0.4, 0.8),
    value: Float64Array.of(...s.value, 0.2),
  };
  const locks: readonly LockWork[] = [
    { kind: options.kind ?? 'toggle', lever: 0.1, actions: 1 },
    { kind: 'cam', lever: 0.05, actions: 1 },
  ];
  const hold = (shape: number, body: number, point: Vec3): MoveHold => ({
    place: { shape, body, point, foot: false, way: 1 },
    force: 5,
  });
  const holds = [hold(0, 1, options.place ?? [1, 0, 0.8]), hold(1, 2, [0.2, 0, 0.95])];
  const bodies = [mass('rear', 6, [0, 0, 0.4]), mass('front', kg, [1, 0, 0.8]), mass('seat', 1, [0.2, 0, 0.95])];
  return { model, state, plan: planFold(model, state), locks, holds, bodies };
}
const times = (b: ReturnType<typeof bicycle>): { fold: HandledTime; unfold: HandledTime } =>
  timeToFold(b.model, b.state, b.plan, b.bodies, b.locks, b.holds, HANGS);
const codes = (t: HandledTime, words: string): string =>
  t.steps
    .find((step) => step.words === words)!
    .elements.map((e) => e.code)
    .join(' ');

describe('the time of a fold', () => {
  const b = bicycle(3);
  const { fold, unfold } = times(b);

  it('is the sum written out by hand from the posture’s distances', () => {
    // hand from (0.5, 0.3, 0.8) down to the lock at (0.5, 0, 0.5): 0.424 m, 17 in; lever 0.1 m × 2 rad: 8 in
    expect(codes(fold, 'release main')).toBe('B R17B G1A APA M8B RL1');
    // up again to (1, 0, 0.8): 20 in; half a turn of radius 0.5 m: 1.571 m, 62 in, with 3 kg (7 lb)
    expect(codes(fold, 'turn main')).toBe('AB R20B G1A M62B7 RL1');
    // from (0, 0, 0.8) to the clamp (0.2, 0, 0.75): 8 in; half a turn of 0.05 m: 6 in
    expect(codes(fold, 'release post')).toBe('R8B G1A APA M6B RL1');
    // saddle 0.2 m above; down by 0.3 m to 0.65: the back follows within the move and is 14.3 TMU longer
    expect(codes(fold, 'lower post')).toBe('R8B G1A M12B (B) RL1');
    // upright again the hand hangs at 0.8 m, the clamp is 0.05 m below
    expect(codes(fold, 'lock post')).toBe('AB R2B G1A M6A APA RL1');
    const sum = [
      29 + 16.5 + 2 + 10.6 + 10.6 + 2,
      31.9 + 18.6 + 2 + 2.2 + 1.06 * (24.3 + 32 * 0.6) + 2,
      10.1 + 2 + 10.6 + 8.9 + 2,
      10.1 + 2 + 13.4 + (29 - 13.4) + 2,
      31.9 + 4 + 2 + 8.1 + 10.6 + 2,
    ].reduce((a, x) => a + x, 0);
    expectWithin(fold.seconds, 0.036 * sum, ROUNDOFF);
    expect([fold.bends, fold.twoHandMoves, fold.walks]).toEqual([2, 0, 0]);
  });

  it('has parts that add up to it, by step and by kind', () => {
    for (const t of [fold, unfold]) {
      expectWithin(
        t.steps.reduce((sum, step) => sum + step.seconds, 0),
        t.seconds,
        ROUNDOFF,
      );
      expectWithin(
        Object.values(t.shares).reduce((sum, x) => sum + x, 0),
        t.seconds,
        ROUNDOFF,
      );
      expect(t.firstTime).toEqual([FIRST_TIME[0] * t.seconds, FIRST_TIME[1] * t.seconds]);
    }
  });

  it('undoes the steps in reverse, shuts the locks for riding and looks at them', () => {
    expect(unfold.steps.filter((step) => step.move >= 0).map((step) => step.words)).toEqual([
      'release post',
      'raise post',
      'lock post',
      'turn back main',
      'lock main',
    ]);
    expect(codes(unfold, 'raise post')).toContain('M12C');
    expect(codes(unfold, 'turn back main')).toContain('M62A7');
    expect(codes(unfold, 'lock main')).toMatch(/P1SE M8A APA RL1 EF$/);
  });

  it('takes two hands, half the load each, above 4 kg', () => {
    const heavy = times(bicycle(6)).fold;
    expect(heavy.twoHandMoves).toBe(1);
    expect(codes(heavy, 'turn main')).toBe('AB R20B G1A M62B7 RL1');
  });

  it('grows with a second catch, a hold farther out, and a lock that must be screwed', () => {
    const screwed = times(bicycle(3, { kind: 'screw' })).fold;
    expect(screwed.seconds).toBeGreaterThan(fold.seconds);
    const far = times(bicycle(3, { place: [1.3, 0, 0.8] })).fold;
    expect(far.shares.move).toBeGreaterThan(fold.shares.move);
    const second = { ...b, locks: [{ ...b.locks[0]!, actions: 2 }, b.locks[1]!] };
    // G1B, APA, M2B, RL1, G5
    expectWithin(times(second).fold.seconds - fold.seconds, 0.036 * (3.5 + 10.6 + 4.6 + 2), { absolute: 1e-9 });
  });

  it('closes what holds the package after the last move that shifts its two bodies, and opens it before', () => {
    const holder = { name: 'hook', kind: 'latch', bodies: [0, 1], station: 2, force: -1, joint: -1 } as const;
    const held = times(bicycle(3, { holders: [holder] }));
    const words = held.fold.steps.map((step) => step.words);
    expect(words[words.indexOf('turn main') + 1]).toBe('close hook');
    const back = held.unfold.steps.map((step) => step.words);
    expect(back[back.indexOf('turn back main') - 1]).toBe('open hook');
    expect(held.fold.seconds).toBeGreaterThan(fold.seconds);
  });

  it('leaves the posture of the state alone', () => {
    expect([...b.state.q]).toEqual([0, 0]);
    expect([...b.state.bodyT.subarray(12, 24)]).toEqual([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0]);
  });

  it('refuses what cannot be held or is too heavy for two hands', () => {
    expect(() => timeToFold(b.model, b.state, b.plan, b.bodies, b.locks, [undefined, b.holds[1]], HANGS)).toThrow(
      /main: nothing/,
    );
    expect(() => times(bicycle(60))).toThrow(/too much for two hands/);
  });

  it('takes no time where nothing is folded', () => {
    const rigid = timeToFold(
      { ...b.model, fold: [] },
      b.state,
      planFold({ ...b.model, fold: [] }, b.state),
      b.bodies,
      b.locks,
      [],
      HANGS,
    );
    expect([rigid.fold.seconds, rigid.unfold.seconds, rigid.fold.steps.length]).toEqual([0, 0, 0]);
  });
});
