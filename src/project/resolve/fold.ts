/** The fold procedure and what keeps the package together: moves, holders, what it rolls and stands on, the handle. */
import { type Holder, KIND, type Move, slides } from '#kernel';
import type { CandidateData } from '../schema/candidate-schema.ts';
import type { Path } from '../text.ts';
import { DIMENSION } from '../units.ts';
import type { Draft, ShapeDraft } from './draft.ts';
import type { JointDraft } from './joints.ts';
import { lookUp, unknown } from './names.ts';
import { stationAt } from './points.ts';
import { amountOrNone, note, readAmount } from './reader.ts';

export interface MoveDraft extends Move {
  readonly filePath: Path;
}

export function readFold(draft: Draft, data: CandidateData, joints: readonly JointDraft[]): MoveDraft[] {
  const { reader } = draft;
  const names = joints.map((j) => j.name);
  const released = new Set<number>();
  return (data.fold ?? []).flatMap((move, i): MoveDraft[] => {
    const filePath = ['fold', i];
    const j = lookUp(reader, [...filePath, 'joint'], move.joint, names, 'joint');
    if (j < 0) return [];
    const joint = joints[j]!;
    const wrong = (message: string, hint: string) =>
      note(reader, [...filePath, 'move'], 'value', 'fold.move', message, { found: move.move, hint });
    const moves = move.move === 'turn' || move.move === 'slide' || move.move === 'lower';
    if (!moves) {
      if (move.to !== undefined)
        note(reader, [...filePath, 'to'], 'key', 'key.unknown', `\`${move.move}\` takes no \`to\``, { found: 'to' });
      const locked = joint.held === 'latch' || joint.held === 'clamp' || joint.kind === 'pin';
      if (move.move === 'release') {
        if (!locked)
          wrong(
            `there is nothing to release at ${joint.name}: it is held by ${joint.held}`,
            'leave this move out, or say what holds the joint',
          );
        else if (released.has(j)) wrong(`${joint.name} is released already`, 'lock it first, or leave this move out');
        released.add(j);
      } else {
        if (locked && !released.has(j))
          wrong(`${joint.name} is locked already`, 'release it first, or leave this move out');
        if (!locked)
          wrong(`there is nothing to lock at ${joint.name}: it is held by ${joint.held}`, 'leave this move out');
        released.delete(j);
      }
      return [{ kind: move.move, joint: j, to: -1, filePath }];
    }
    const slide = slides(KIND[joint.kind]);
    if (joint.kind === 'pin')
      wrong(`the pin ${joint.name} is absent once released; it cannot be moved`, 'move the joints that it set free');
    else if (move.move === 'turn' && slide)
      wrong(`${joint.name} is a ${joint.kind}, it does not turn`, 'write `slide` or `lower`');
    else if (move.move !== 'turn' && !slide)
      wrong(`${joint.name} is a ${joint.kind}, it does not slide`, 'write `turn`');
    if ((joint.held === 'latch' || joint.held === 'clamp') && !released.has(j))
      wrong(`${joint.name} is still held by its ${joint.held}`, `put {move: release, joint: ${joint.name}} before it`);
    if (move.to === undefined) {
      note(reader, filePath, 'value', 'key.missing', `move ${i + 1} does not say where it ends`, {
        expected: slide ? 'to: -300 mm' : 'to: 178 deg',
      });
      return [];
    }
    const to = readAmount(reader, [...filePath, 'to'], move.to, slide ? DIMENSION.length : DIMENSION.angle);
    return [{ kind: move.move, joint: j, to, filePath }];
  });
}

export function readHolders(draft: Draft, data: CandidateData, joints: readonly JointDraft[]): Holder[] {
  const { reader, points, bodies } = draft;
  return (data.folded?.holds ?? []).flatMap((hold, i): Holder[] => {
    const path = ['folded', 'holds', i];
    const need = (field: string, example: string): void =>
      note(reader, path, 'value', 'key.missing', `${hold.kind} ${hold.name} lacks \`${field}\``, { expected: example });
    if (hold.kind === 'friction') {
      if (hold.joint === undefined || hold.torque === undefined) {
        need(hold.joint === undefined ? 'joint' : 'torque', 'joint: NAME, torque: 4 N.m');
        return [];
      }
      const j = lookUp(
        reader,
        [...path, 'joint'],
        hold.joint,
        joints.map((x) => x.name),
        'joint',
      );
      const force = readAmount(reader, [...path, 'torque'], hold.torque, DIMENSION.torque);
      if (j < 0) return [];
      const joint = joints[j]!;
      return [{ name: hold.name, kind: 'friction', bodies: [joint.a, joint.b], station: joint.at[0], force, joint: j }];
    }
    if (!hold.between || hold.at === undefined || hold.force === undefined) {
      const field = !hold.between ? 'between' : hold.at === undefined ? 'at' : 'force';
      need(field, 'between: [BODY, BODY], at: STATION, force: 60 N');
      return [];
    }
    const [a, b] = hold.between.map((name, k) => lookUp(reader, [...path, 'between', k], name, bodies, 'body')) as [
      number,
      number,
    ];
    const station = stationAt(reader, points, hold.at, [...path, 'at']);
    const force = amountOrNone(reader, [...path, 'force'], hold.force, DIMENSION.force);
    if (a < 0 || b < 0 || station < 0) return [];
    if (a === b) {
      note(reader, [...path, 'between'], 'value', 'joint.same_body', `${hold.name} ties ${bodies[a]} to itself`, {
        expected: 'two different bodies',
      });
      return [];
    }
    return [{ name: hold.name, kind: hold.kind, bodies: [a, b], station, force, joint: -1 }];
  });
}

/** Indices of the shapes that a list of names stands for. Wheels count by their disc, not by the hub beside it. */
export function shapesNamed(
  draft: Draft,
  path: Path,
  names: readonly string[],
  shapes: readonly ShapeDraft[],
): number[] {
  return names.flatMap((name, i) => {
    const found = shapes.flatMap((shape, k) => (shape.name === name || shape.groups.includes(name) ? [k] : []));
    const discs = found.filter((k) => shapes[k]!.kind === 'disc');
    if (found.length === 0) unknown(draft.reader, [...path, i], name, shapeNames(shapes), 'part or shape');
    return discs.length > 0 ? discs : found;
  });
}
export const shapeNames = (shapes: readonly ShapeDraft[]): string[] => [...new Set(shapes.flatMap((s) => s.groups))];
