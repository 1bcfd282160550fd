/**
 * Every lock left half-shut, closed on a joint that is not home, or forgotten: noticed, harmless, or it looks shut and is not.
 *
 * In order: a lock without which the frame is rigid does no harm; a detent goes to one of its ends by itself; a second catch that
 * shows or holds (joint shelf) tells or keeps it; then the mechanism decides (kernel/effort/half-shut). Of a lock that names no
 * principle nothing is known, so that nothing says that it would be noticed: it counts as looking shut.
 */
import { type HalfShut, HELD, halfShut, type Model, openStandsOff, rigidWhenLocked, type State, slides } from '#kernel';
import type { Latch } from './latch.ts';

export type Mishap = 'half_shut' | 'not_home' | 'forgotten';
export type MishapEnd = 'blocked' | 'seen' | 'harmless' | 'looks_shut';
export interface LockMishap {
  readonly joint: number;
  readonly mishap: Mishap;
  readonly posture: 'ride' | 'folded';
  readonly end: MishapEnd;
  /** In plain words. */
  readonly why: string;
  /** Joints that move when it lets go; empty where the frame is rigid without it. */
  readonly frees: readonly number[];
  readonly handle: HalfShut | undefined;
}

/** An open handle stands off by this and is seen by somebody who is not looking for it, mm (default, from memory). */
const OPEN_SEEN = 50;

/** `folded`: joints that the procedure locks in the folded package. `s` must be filled and in the ride posture. */
export function lockMishaps(
  m: Model,
  s: State,
  latches: readonly Latch[],
  folded: ReadonlySet<number>,
): readonly LockMishap[] {
  return latches.flatMap((latch) => {
    const { freedoms, loose } = rigidWhenLocked(m, s, latch.joint);
    const frees = freedoms > 0 ? loose : [];
    const tell = (mishap: Mishap, posture: LockMishap['posture'], verdict: Verdict): LockMishap => ({
      joint: latch.joint,
      mishap,
      posture,
      frees,
      handle: verdict.handle,
      ...(frees.length === 0 && posture === 'ride'
        ? { end: 'harmless' as const, why: 'the frame is rigid without it' }
        : { end: verdict.end, why: verdict.why }),
    });
    return [
      tell('half_shut', 'ride', left(latch)),
      tell('not_home', 'ride', notHome(m, latch)),
      tell('forgotten', 'ride', forgotten(latch)),
      ...(folded.has(latch.joint) ? [tell('forgotten', 'folded', forgotten(latch))] : []),
    ];
  });
}

interface Verdict {
  readonly end: MishapEnd;
  readonly why: string;
  readonly handle?: HalfShut | undefined;
}
const DETENT: Verdict = { end: 'blocked', why: 'its spring takes it to one end or the other' };
const UNKNOWN: Verdict = {
  end: 'looks_shut',
  why: 'the file names no principle of the joint shelf: nothing says that it would be noticed',
};
/** What the second catch makes of a state that would look shut. */
function byCatch(latch: Latch): Verdict | undefined {
  if (latch.kind === 'detent') return DETENT;
  // two actions to open say nothing of what is seen half-shut: only the shelf's principle does
  const does = latch.principle?.halfShut ?? 'nothing';
  if (does === 'shows')
    return {
      end: 'seen',
      why: `its second catch shows it: ${latch.principle!.secondCatch}`,
    };
  if (does === 'holds')
    return { end: 'harmless', why: `its second catch holds all the same: ${latch.principle!.secondCatch}` };
  return undefined;
}

function left(latch: Latch): Verdict {
  const { mechanism, figures } = latch;
  if (!mechanism || !figures) return byCatch(latch) ?? UNKNOWN;
  const handle = halfShut(mechanism, figures.preload, figures);
  const off = Number.isFinite(handle.standsOff) ? `${handle.standsOff.toFixed(0)} mm off` : 'its lever tells nothing';
  if (handle.state === 'springs_open') return { end: 'blocked', why: 'it springs open by itself', handle };
  if (handle.state === 'seen') return { end: 'seen', why: `its handle stands ${off}`, handle };
  if (handle.state === 'holds')
    return {
      end: 'harmless',
      why: `left ${off} it still clamps with ${(100 * handle.clamps).toFixed(0)} % and opens at ${handle.opensAt.toFixed(0)} N`,
      handle,
    };
  const caught = byCatch(latch);
  if (caught) return { ...caught, handle };
  const lets = handle.clamps > 0 ? `opens at ${handle.opensAt.toFixed(0)} N` : 'may hold with nothing';
  return { end: 'looks_shut', why: `left short (${off}) it ${lets}`, handle };
}

/** Closed while the joint stands a little before its place. */
function notHome(m: Model, latch: Latch): Verdict {
  const { mechanism } = latch;
  const sliding = slides(m.top.kind[latch.joint]!);
  if (latch.joint === m.roles.seatPost)
    return { end: 'harmless', why: 'a post may be clamped at any height within its marks' };
  const closesAnywhere = sliding && m.top.held[latch.joint] === HELD.clamp;
  if (closesAnywhere) {
    return (
      byCatch(latch) ?? {
        end: 'looks_shut',
        why: 'it clamps anywhere: a little short of its end nothing tells, friction alone holds',
      }
    );
  }
  if (latch.kind === 'detent') return DETENT;
  if (mechanism?.kind === 'plunger')
    return byCatch(latch) ?? { end: 'looks_shut', why: 'its pin stands on the rim of the hole' };
  if (mechanism) return { end: 'blocked', why: 'it draws the joint home, or does not reach and cannot be closed' };
  return byCatch(latch) ?? UNKNOWN;
}

/** Not closed at all. */
function forgotten(latch: Latch): Verdict {
  const { mechanism, figures } = latch;
  if (latch.kind === 'detent') return { end: 'harmless', why: 'it closes by itself' };
  if (mechanism?.kind === 'plunger') return { end: 'harmless', why: 'its pin drops home by itself' };
  if (!mechanism || !figures) return byCatch(latch) ?? UNKNOWN;
  const off = openStandsOff(mechanism, figures);
  if (off >= OPEN_SEEN) return { end: 'seen', why: `its open handle stands ${off.toFixed(0)} mm off` };
  const caught = byCatch(latch);
  if (caught) return caught;
  return {
    end: 'looks_shut',
    why: Number.isFinite(off) ? `its open handle stands only ${off.toFixed(0)} mm off` : 'its lever tells nothing',
  };
}
