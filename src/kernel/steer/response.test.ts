import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { BENCHMARK as SAMPLE } from '../../../verification/steer/bicycles.ts';
import { capsizeSpeed, characteristic } from './characteristic.ts';
import { gripLever, handForce } from './grips.ts';
import { rollRateGain, steadyTurn, steerStatics } from './response.ts';
import { accelerationRows, inverseMass, whipple } from './whipple.ts';

const system = whipple(SAMPLE);

describe('steady turns', () => {
  it('balance the equations of motion', () => {
    for (const v of [2, 6, 9]) {
      const t = steadyTurn(system, v, 12);
      const k = (j: number) => system.g * system.K0[j]! + v * v * system.K2[j]!;
      expectWithin(k(0) * t.lean + k(1) * t.steer, 0, { absolute: 1e-12 });
      expectWithin(k(2) * t.lean + k(3) * t.steer, t.torque, { relative: 1e-12 });
      // A turn to the right leans to the right.
      expect(t.lean).toBeGreaterThan(0);
    }
  });

  it('need no steer torque at the capsize speed, and hold against the turn below it', () => {
    const v = capsizeSpeed(characteristic(system))!;
    expectWithin(steadyTurn(system, v, 20).torquePerSteer, 0, { absolute: 1e-12 });
    expect(steadyTurn(system, v * 0.9, 20).torque).toBeLessThan(0);
    expect(steadyTurn(system, v * 1.1, 20).torque).toBeGreaterThan(0);
  });

  it('lean as v²/(gR) for a fast, wide turn, plus the wheels’ share', () => {
    const t = steadyTurn(system, 6, 60);
    expectWithin(t.lean, 36 / (9.81 * 60), { relative: 0.05 }); // gyroscopic wheels and flop add a few percent
    expect(t.inRange).toBe(true);
    expect(steadyTurn(system, 8, 10).inRange).toBe(false);
  });

  it('refuse a turn without radius', () => {
    expect(() => steadyTurn(system, 5, 0)).toThrow(expect.objectContaining({ path: 'radius' }));
  });
});

describe('roll rate per steer torque', () => {
  it('equals the state-space solution at the same frequency, stable or not', () => {
    for (const v of [2, 5, 8])
      for (const f of [1, 5, 20]) {
        const a = accelerationRows(system, v);
        const [, n12, , n22] = inverseMass(system);
        const A = [[0, 0, 1, 0], [0, 0, 0, 1], [...a.slice(0, 4)], [...a.slice(4)]];
        // (iω − A) x = B as a real system of eight: [−A, −ωI; ωI, −A][re; im] = [B; 0].
        const big = Matrix.zeros(8, 8);
        for (let i = 0; i < 4; i++) {
          for (let j = 0; j < 4; j++) {
            big.set(i, j, -A[i]![j]!);
            big.set(4 + i, 4 + j, -A[i]![j]!);
          }
          big.set(i, 4 + i, -f);
          big.set(4 + i, i, f);
        }
        const x = solve(big, Matrix.columnVector([0, 0, n12, n22, 0, 0, 0, 0]));
        const re = x.get(2, 0);
        const im = x.get(6, 0);
        const gain = rollRateGain(system, v, f);
        expectWithin(gain.size, Math.sqrt(re * re + im * im), { relative: 1e-11 }, { v, f });
        expectWithin(gain.size * Math.cos(gain.phase), re, { absolute: 1e-11 });
        expectWithin(gain.size * Math.sin(gain.phase), im, { absolute: 1e-11 });
      }
  });

  it('tends to the roll authority over frequency when the torque swings fast', () => {
    const f = 1e5; // the damping terms enter as (73/f)²/2 at 5 m/s
    expectWithin(rollRateGain(system, 5, f).size * f, Math.abs(steerStatics(system).rollAuthority), { relative: 1e-6 });
  });
});

describe('hand force', () => {
  const steerer = { point: [1, 0, 0.5] as const, axis: [0, 0, 1] as const };

  it('is torque over twice the radius at best, and more when only pushing and pulling', () => {
    const lever = gripLever(steerer, [1.3, 0.4, 1]);
    expectWithin(lever.radius, 0.5, { relative: 1e-14 });
    expectWithin(lever.reach, 0.3, { relative: 1e-14 });
    expectWithin(lever.tiller, Math.atan(0.75), { relative: 1e-14 });
    expectWithin(handForce(-3, lever).least, 3, { relative: 1e-14 });
    expectWithin(handForce(-3, lever).foreAft, 3.75, { relative: 1e-14 });
  });

  it('measures reach square to a leaning axis, whichever way it is drawn', () => {
    const angle = 1.25;
    for (const s of [1, -1]) {
      const axis = [-Math.cos(angle) * s, 0, Math.sin(angle) * s] as const;
      // 0.2 m ahead of the axis, square to it, and anywhere along it.
      const grip = [
        1 + 0.2 * Math.sin(angle) - 0.4 * Math.cos(angle),
        -0.3,
        0.5 + 0.2 * Math.cos(angle) + 0.4 * Math.sin(angle),
      ] as const;
      const lever = gripLever({ point: [1, 0, 0.5], axis }, grip);
      expectWithin(lever.reach, 0.2, { relative: 1e-13 });
      expectWithin(lever.side, 0.3, { relative: 1e-14 });
    }
  });

  it('refuses a grip in the mid-plane', () => {
    expect(() => gripLever(steerer, [1.3, 0, 1])).toThrow(expect.objectContaining({ path: 'grip' }));
  });
});
