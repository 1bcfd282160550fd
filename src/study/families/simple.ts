/** Simplicity as counts. */
import type { SimpleCounts } from '#kernel';
import { type Family, single } from '../family.ts';

const count = (
  id: string,
  title: string,
  symbol: string,
  meaning: string,
  pick: (c: SimpleCounts) => number,
): Family => ({
  id,
  title,
  symbol,
  unit: '',
  meaning,
  tier: 'drag',
  needs: ['simple'],
  slots: single,
  read: (r) => pick(r.simple!),
  steps: ['Counted from the file.'],
  source: 'our definition; no standard counts these',
  standing: 'definition',
  valid: 'what the file names',
  spread: () => 0,
});

export const SIMPLE_FAMILIES: readonly Family[] = [
  count(
    'simple.bodies',
    'bodies',
    'n_b',
    'rigid groups that can move against each other, cranks not counted',
    (c) => c.bodies,
  ),
  count(
    'simple.moving_joints',
    'moving joints',
    'n_j',
    'joints that the fold or a rider’s setting moves',
    (c) => c.movingJoints,
  ),
  count('simple.adjustments', 'adjustments', 'n_a', 'settings that a rider makes', (c) => c.adjustments),
  count(
    'simple.custom_parts',
    'parts to make',
    'n_m',
    'tubes, blocks and joint hardware that are not bought',
    (c) => c.customParts,
  ),
  count('simple.bought_parts', 'parts to buy', 'n_p', 'parts from the shelf', (c) => c.boughtParts),
  count('simple.fasteners', 'fasteners', 'n_f', 'screws, nuts, rivets and pins', (c) => c.fasteners),
  count(
    'simple.visible_moves',
    'visible moves',
    'n_v',
    'steps of the fold in which something changes place',
    (c) => c.visibleMoves,
  ),
];
