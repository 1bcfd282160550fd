/** Names that people read for things the kernel numbers. */
import { type Model, slides } from '#kernel';

/** One name per motion of the fold, unique: the joint, with its turn of use when it moves more than once. */
export function moveNames(m: Model): string[] {
  const seen = new Map<string, number>();
  return m.fold
    .filter((move) => move.to >= 0)
    .map((move) => {
      const joint = m.top.names.joints[move.joint]!;
      const n = (seen.get(joint) ?? 0) + 1;
      seen.set(joint, n);
      return n === 1 ? joint : `${joint}_${n}`;
    });
}

/** A joint value in the unit that its kind reads in. */
export const jointValue = (m: Model, joint: number, x: number): string =>
  slides(m.top.kind[joint]!) ? `${(x * 1000).toFixed(0)} mm` : `${((x * 180) / Math.PI).toFixed(0)}°`;

/** One line per step of the procedure: `turn main to 178°`. */
export const moveSentence = (m: Model, value: Float64Array, i: number): string => {
  const move = m.fold[i]!;
  const joint = m.top.names.joints[move.joint]!.replaceAll('_', ' ');
  return move.to < 0
    ? `${move.kind} ${joint}`
    : `${move.kind} ${joint} to ${jointValue(m, move.joint, value[move.to]!)}`;
};

/** A name of the file for people: `post_clamp` reads `post clamp`, and `saddle saddle` once. */
export const plainName = (name: string): string => name.replaceAll('_', ' ').replace(/^(\w+) \1$/, '$1');
