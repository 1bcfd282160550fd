/** Quantities of braking: bounds of the stopping way on the brief's descent. */
import { ADHESION_RANGE, REACTION } from '#kernel';
import { type Absent, absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { RoadBraking } from '../run/braking.ts';

const CAUTION =
  'A bound for choosing between designs, not a stopping distance. Brakes are proved by the tests of ISO 4210-4, EN 15194 or 16 CFR 1512 and by riding carefully.';
const VALID =
  'both wheels on the ground, the worst rider of the pitch-over, hands at the levers; adhesion, reaction and build-up are defaults, from memory';
type Road = 'dry' | 'wet';

const on = (r: Results, road: Road): RoadBraking => r.drive!.braking![road];
/** Runs `read` where there are brakes to judge. */
const braked = (r: Results, read: () => number | Absent): number | Absent =>
  r.drive!.braking ? read() : absent(r.drive!.why.braking ?? 'not computed');
const metres = (x: number): string => (Number.isFinite(x) ? `${x.toFixed(1)} m` : 'never');

const best = (road: Road): Family => ({
  id: `drive.braking_${road}`,
  title: `shortest stop, ${road}`,
  symbol: road === 'dry' ? 's_d' : 's_w',
  unit: 'm',
  meaning: `from seeing to standing at the brief’s speed down the brief’s descent, ${road}: what grip and wheelbase allow at best`,
  tier: 'drag',
  needs: ['steer', 'drive'],
  slots: single,
  read: (r) =>
    braked(r, () => {
      const s = on(r, road).best.both.distance;
      return Number.isFinite(s) ? s : absent('the road holds less than the slope pulls: it does not stop');
    }),
  steps: [
    `Both brakes at once, up to what the road holds (${road}) or until the rear wheel lifts, less the pull of the slope.`,
    `${REACTION} s from seeing to the lever, then the brake’s force grows evenly; the bicycle gathers speed downhill until it holds.`,
  ],
  source: 'moments about the contacts as in C. Riel 2005; way of an even deceleration: theory',
  standing: 'memory',
  valid: VALID,
  spread: (r) => gripSpread(r, road),
  caution: CAUTION,
  note: (r) => {
    if (!r.drive!.braking) return undefined;
    const b = on(r, road);
    const { front, rear } = b.best;
    return `${b.most.both.value.toFixed(1)} m/s², ${b.most.both.limit}; front brake alone ${metres(front.distance)}, rear alone ${metres(rear.distance)}`;
  },
});

const passing = (road: Road): Family => ({
  id: `drive.braking_${road}_most`,
  title: `stop with brakes that just pass, ${road}`,
  symbol: road === 'dry' ? 'S_d' : 'S_w',
  unit: 'm',
  meaning: `the same way with brakes that just pass the standard’s test on the level, ${road}`,
  tier: 'drag',
  needs: ['steer', 'drive'],
  slots: single,
  read: (r) =>
    braked(r, () => {
      const s = on(r, road).passing.distance;
      return Number.isFinite(s)
        ? s
        : absent('brakes that just pass their test do not hold on this slope: it does not stop');
    }),
  steps: [
    'Mean deceleration that the test’s distance asks for, its force unchanged on the slope; never more than the bound.',
    'Reaction and build-up as for the bound.',
  ],
  source: 'ISO 4210-2 (25 km/h in 7 m dry, 16 km/h in 5 m wet; from memory), in the US 16 CFR 1512.5 (4.57 m)',
  standing: 'memory',
  valid: VALID,
  spread: (r) => {
    if (!r.drive!.braking) return 0;
    const s = on(r, road).passing;
    return 0.15 * (s.buildUp + s.braking) + 0.3 * r.drive!.speed;
  },
  caution: CAUTION,
  note: (r) => (r.drive!.braking ? `${on(r, road).tested.toFixed(1)} m/s²; ${on(r, road).test.standard}` : undefined),
});

/** Half the range of adhesion as one sigma of the braking way, and 0.3 s of reaction. */
function gripSpread(r: Results, road: Road): number {
  if (!r.drive!.braking) return 0;
  const b = on(r, road);
  const [low, high] = ADHESION_RANGE[road];
  const grip = b.most.both.limit === 'adhesion' ? (high - low) / 4 / b.adhesion : 0.05;
  const way = b.best.both;
  const reaction = 0.3 * r.drive!.speed;
  const braking = grip * (way.buildUp + way.braking);
  return Math.sqrt(reaction * reaction + braking * braking);
}

export const BRAKING_FAMILIES: readonly Family[] = [best('dry'), best('wet'), passing('dry'), passing('wet')];
