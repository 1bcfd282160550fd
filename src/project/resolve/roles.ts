/** Who the bicycle's points are: hubs, crank, saddle, grips, and the joints that a rider uses. */
import type { Roles, Wheel } from '#kernel';
import type { Draft } from './draft.ts';
import type { JointDraft } from './joints.ts';
import type { PartDraft } from './parts.ts';
import { note } from './reader.ts';
import { jointsBetween, type Tree } from './tree.ts';

export function findRoles(
  draft: Draft,
  joints: readonly JointDraft[],
  parts: readonly PartDraft[],
  tree: Tree,
  wheels: { readonly front: Wheel | undefined; readonly rear: Wheel | undefined },
): Roles {
  const { reader, points } = draft;
  const missing = (message: string, expected: string, at: string) =>
    note(reader, [at], 'key', 'role.missing', message, { expected });
  const part = (kind: PartDraft['spec']['kind'], example: string): PartDraft | undefined => {
    const found = parts.find((p) => p.spec.kind === kind);
    if (!found && !reader.lost.has(kind))
      missing(`there is no ${kind}`, `{part: ${example}, body: ..., at: ...}`, 'parts');
    return found;
  };
  const station = (name: string, meaning: string): number => {
    const found = points.index.get(name) ?? -1;
    if (found < 0) missing(`there is no station \`${name}\` (${meaning})`, `${name}: [x, y, z]`, 'stations');
    return found;
  };
  const saddle = part('saddle', 'saddle city');
  const bar = part('handlebar', 'handlebar flat 540');
  const crankset = parts.find((p) => p.spec.kind === 'crankset');
  for (const end of ['front', 'rear'] as const)
    if (!wheels[end] && !reader.lost.has(`${end}_wheel`))
      missing(`there is no ${end} wheel`, `{part: wheel 40-406 ${end}, body: ..., at: ${end}_hub}`, 'parts');
  const steerers = joints.flatMap((j, i) => (j.kind === 'steerer' ? [i] : []));
  if (steerers.length !== 1 && !(steerers.length === 0 && reader.lost.has('steerer')))
    missing(
      steerers.length === 0 ? 'no joint is the steerer' : `${steerers.length} joints are steerers`,
      'one joint with kind: steerer',
      'joints',
    );
  const posts = saddle ? jointsBetween(tree, 0, saddle.body) : [];
  return {
    rearHub: station('rear_hub', 'centre of the rear hub'),
    frontHub: station('front_hub', 'centre of the front hub'),
    crank: station('crank', 'centre of the bottom bracket'),
    saddle: station('saddle', "centre of the saddle's top"),
    gripLeft: station('grip_left', 'centre of the left grip'),
    gripRight: points.index.get('grip_right') ?? -1,
    crankBody: crankset?.host ?? -1,
    cranksBody: crankset?.body ?? -1,
    saddleBody: saddle?.body ?? -1,
    gripBody: bar?.body ?? -1,
    steerer: steerers[0] ?? -1,
    cranks: joints.findIndex((j) => j.name === 'cranks'),
    seatPost: posts.find((j) => joints[j]!.kind === 'post') ?? -1,
  };
}
