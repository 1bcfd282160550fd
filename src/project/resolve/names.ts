/** Looking up names of bodies, joints and materials, with the nearest known one in the problem. */
import { nearestName } from '../nearest.ts';
import type { ProblemCode } from '../problems.ts';
import type { Path } from '../text.ts';
import { note, type Reader } from './reader.ts';

/** Longer lists are shown only where no name is near. */
const MOST_LISTED = 12;

/** Position of `name` in `known`; -1 with a problem when it is not there. */
export function lookUp(
  reader: Reader,
  path: Path,
  name: string,
  known: readonly string[],
  what: string,
  code: ProblemCode = 'name.unknown',
): number {
  const found = known.indexOf(name);
  if (found < 0) unknown(reader, path, name, known, what, code);
  return found;
}
/** Notes that nothing bears that name; silent about what stands in the file and has a problem of its own. */
export function unknown(
  reader: Reader,
  path: Path,
  name: string,
  known: readonly string[],
  what: string,
  code: ProblemCode = 'name.unknown',
): void {
  if (reader.lost.has(name)) return;
  const near = nearestName(name, known);
  note(reader, path, 'value', code, `there is no ${what} \`${name}\``, {
    found: name,
    // Beside the name that was meant, a list of sixty hides more than it tells.
    ...(near && known.length > MOST_LISTED
      ? {}
      : { expected: known.length === 0 ? `a ${what}; the file has none` : `one of ${known.join(', ')}` }),
    ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
  });
}
