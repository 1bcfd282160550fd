import { expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { inertiaAbout, type RigidMass } from '../mass/rigid-mass.ts';
import { betweenIsoAndPaper, signBetweenIsoAndPaper } from './axes.ts';

const body: RigidMass = { mass: 3, com: [1, 2, 3], inertia: [4, 5, 6, 0.1, 0.2, 0.3] };

it('is its own inverse', () => {
  expect(betweenIsoAndPaper(betweenIsoAndPaper(body))).toEqual(body);
});

it('turns tensor elements as a half-turn about x does to point masses', () => {
  // Four point masses; their tensor computed in each set of axes from coordinates alone.
  const points = [
    [0.3, -0.2, 0.9],
    [1, 0.4, 0.1],
    [-0.5, 0.7, 0.6],
    [0.2, 0.1, -0.8],
  ] as const;
  const tensor = (sign: 1 | -1) => {
    const sum = [0, 0, 0, 0, 0, 0];
    for (const [x, y, z] of points)
      inertiaAbout({ mass: 1, com: [x, sign * y, sign * z], inertia: [0, 0, 0, 0, 0, 0] }, [0, 0, 0]).forEach(
        (v, k) => {
          sum[k]! += v;
        },
      );
    return sum as unknown as RigidMass['inertia'];
  };
  const converted = betweenIsoAndPaper({ mass: 4, com: [0, 0, 0], inertia: tensor(1) }).inertia;
  converted.forEach((v, k) => {
    expectWithin(v, tensor(-1)[k]!, { absolute: 1e-15 });
  });
});

it('keeps lean and turns steer, yaw and pitch over', () => {
  expect(signBetweenIsoAndPaper('lean', 2)).toBe(2);
  for (const about of ['steer', 'yaw', 'pitch'] as const) expect(signBetweenIsoAndPaper(about, 2)).toBe(-2);
});
