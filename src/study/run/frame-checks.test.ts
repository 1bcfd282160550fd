import { describe, expect, it } from 'vitest';
import { findMaterial } from '#project';
import { expectWithin } from '../../../test/expect-within.ts';
import { quayside } from '../../../test/fixtures/quayside.ts';
import { runFrame } from './frame.ts';
import { runFrameChecks, weldStrength } from './frame-checks.ts';

const w = quayside();
const checksOf = (id: string, change?: (slots: Float64Array) => void) => {
  const candidate = w.candidates.find((c) => c.id === id)!;
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  change?.(s.value);
  const frame = runFrame(candidate, s, w.setting);
  return { candidate, frame, checks: runFrameChecks(candidate, s, frame) };
};
const { candidate, frame, checks } = checksOf('side_beam');
const hardware = (joint: string) => candidate.hardware[candidate.model.top.names.joints.indexOf(joint)]!;

/** Hand sums on three digits. */
const BY_HAND = { relative: 0.01 };

describe('hand checks of a candidate', () => {
  it('find the post’s clamp as statics does: 1000 N down a post at 73° in the test, against 1613 N', () => {
    const clamp = checks.clamps.find((c) => c.joint === 'post_clamp')!;
    expect(clamp.frameCase).toBe('seat_post');
    // 1000 N · sin 73° along the post
    expectWithin(Math.abs(clamp.push), 956.3, BY_HAND);
    // four times friction 0.15 times the cam's 2689 N
    expectWithin(clamp.use, 956.3 / (4 * 0.15 * 2689), BY_HAND);
  });
  it('halve the use of the clamp with twice the preload', () => {
    const slot = hardware('post_clamp').preload;
    const tight = checksOf('side_beam', (v) => {
      v[slot] = 2 * v[slot]!;
    });
    const use = (c: typeof checks): number => c.clamps.find((x) => x.joint === 'post_clamp')!.use;
    expectWithin(use(tight.checks), use(checks) / 2, { relative: 1e-9 });
  });
  it('find the main pin under a kerb: 797 N·m in the middle of the hinge tilt a pin of 82.2 mm', () => {
    const pin = checks.pins.find((p) => p.joint === 'main')!;
    expect(pin.frameCase).toBe('kerb');
    // E = 797.2 N·m/82.2 mm + 10.1 N·m/46.4 mm = 9916 N; 1821 N + 0.35 E is less; across some 100 N
    expectWithin(pin.load, 9917, BY_HAND);
    // knuckles 20.6, 41.1, 20.6 mm: arm 20.7 mm, 102.4 N·m against 1.5 · 98.2 mm³ · 900 MPa = 132.5 N·m; shear is a tenth
    expectWithin(pin.use, 102.4 / 132.5, BY_HAND);
  });
  it('find the wall of the steerer under the first push of the bar test', () => {
    const { wall } = checks;
    expect(wall!.frameCase).toBe('bar_forward');
    expect(wall!.state).toBe(0);
    // R/t = 5.5: yield decides; 1131 N/198 mm² + (578 + 11) N·m/1195 mm³ = 498.5 MPa over 517
    expectWithin(wall!.use, 498.5 / 517, BY_HAND);
  });
  it('find the throat at the foot of the mast: a ring of 35 to 41 mm under 642 N·m', () => {
    const { weld } = checks;
    expect(weld!.frameCase).toBe('bar_forward');
    expect(frame.model.bearing.tubes[frame.points.points[weld!.point]!.tube]!.name).toBe('bar.mast');
    // second push of 2000 N: 1414 N across at 444 mm and as much along 9.5 mm beside the axis, 641.6 N·m; I = π/64 (41⁴ − 35⁴) = 65 048 mm⁴, at the outline of 38 mm
    // 3424 mm³; area 358 mm²; √2 n is the stress of the throat, shear peaks at twice its mean
    const n = 641_600 / 3424 + 1414 / 358;
    const along = (2 * 1414) / 358;
    expectWithin(weld!.use, Math.sqrt(2 * n * n + 3 * along * along) / (190 / 1.25), BY_HAND);
  });
  it('take no screening case and no pin whose principle nobody names', () => {
    for (const c of [...checks.pins, ...checks.clamps])
      expect(frame.cases.get(c.frameCase)!.frameCase.kind).not.toBe('screening');
    expect(checks.pins.map((p) => p.joint).sort()).toEqual(['bar_hinge', 'main']);
  });
});

describe('weld metal', () => {
  it('is 190 MPa for 6061 and 210 MPa for 6082, over 1.25', () => {
    expectWithin(weldStrength(findMaterial('6061-T6')!)!.allowed, 152, BY_HAND);
    expectWithin(weldStrength(findMaterial('6082-T6')!)!.allowed, 168, BY_HAND);
  });
  it('is as strong as steel beside the weld over its β_w and 1.25', () => {
    // S235: 360/(0.8 · 1.25); 25CrMo4: 552/(1 · 1.25)
    expectWithin(weldStrength(findMaterial('S235')!)!.allowed, 360, BY_HAND);
    expectWithin(weldStrength(findMaterial('25CrMo4')!)!.allowed, 441.6, BY_HAND);
  });
  it('is not known for what is not welded', () => {
    expect(weldStrength(findMaterial('42CrMo4+QT')!)).toBeUndefined();
  });
});
