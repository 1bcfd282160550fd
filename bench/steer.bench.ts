/**
 * Steering: one bicycle from its parameters to all figures at 50 speeds, and a handling profile with its lane changes.
 * Beside it in the same run: the eigenvalues alone, ours and by the general-purpose QR routine of ml-matrix.
 */

import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import {
  accelerationRows,
  capsizeSpeed,
  characteristic,
  eigenvalues,
  gripLever,
  handForce,
  handlingProfile,
  headGeometry,
  laneChange,
  likeness,
  rollRateGain,
  steadyTurn,
  weaveSpeed,
  whipple,
} from '#kernel';
import { BENCHMARK } from '../verification/steer/bicycles.ts';
import { measure } from './measure.ts';

const SPEEDS = 50;
const { headAngle, trail, wheelbase, frontWheel } = BENCHMARK;
const cos = Math.cos(headAngle);
const sin = Math.sin(headAngle);
const lever = gripLever({ point: [wheelbase + trail, 0, 0], axis: [-cos, 0, sin] }, [0.75, 0.28, 1]);
const geometry = headGeometry(frontWheel.radius, headAngle, frontWheel.radius * cos - trail * sin);
const roots = new Float64Array(8);
const speed = (i: number): number => 0.2 * (i + 1);

measure('steer: matrices, critical speeds, eigenvalues and figures at 50 speeds', () => {
  const system = whipple(BENCHMARK);
  const p = characteristic(system);
  let sum = (weaveSpeed(p) ?? 0) + (capsizeSpeed(p) ?? 0);
  for (let i = 0; i < SPEEDS; i++) {
    const v = speed(i);
    eigenvalues(p, v, roots);
    sum += roots[0]! + handForce(steadyTurn(system, v, v * v).torque, lever).least;
    for (const f of [2, 5, 10]) sum += rollRateGain(system, v, f).size;
  }
  return sum;
});

const system = whipple(BENCHMARK);
const p = characteristic(system);
measure('steer: eigenvalues alone at 50 speeds', () => {
  let sum = 0;
  for (let i = 0; i < SPEEDS; i++) {
    eigenvalues(p, speed(i), roots);
    sum += roots[0]!;
  }
  return sum;
});
measure('steer: the same by ml-matrix QR', () => {
  let sum = 0;
  for (let i = 0; i < SPEEDS; i++) {
    const a = accelerationRows(system, speed(i));
    const rows = [[0, 0, 1, 0], [0, 0, 0, 1], [...a.subarray(0, 4)], [...a.subarray(4)]];
    sum += new EigenvalueDecomposition(new Matrix(rows)).realEigenvalues[0]!;
  }
  return sum;
});
measure('steer: one lane change, gains and simulation', () => laneChange(system, 4).peakTorque);
const reference = handlingProfile({ system, geometry, lever });
measure('steer: handling profile at three speeds and its likeness', () => {
  return likeness(handlingProfile({ system, geometry, lever }), reference).value;
});
