/**
 * Loads off the road: somebody sits on the folded bicycle, somebody lifts it by its handle.
 *
 * Lifted, the bicycle swings until its centre of mass hangs under the hand: weight acts from the handle towards that
 * centre, whatever the posture, and the hand feels no moment. Folded, it stands on its points, which press only.
 * Units: mm, N, kg. Source: statics, theory; factors are the user's. Not here: friction of feet, tipping (a negative height force of
 * a foot tells it; `stand` judges it), the strength of the handle's own screws.
 */
import { STANDARD_GRAVITY as g } from '../../math/constants.ts';
import { norm, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import type { FrameContext } from '../places.ts';
import type { FigureValues } from './figures.ts';
import { clamp, standOn, steeringLockIfAny } from './fixtures.ts';
import {
  type CaseLoads,
  caseLoads,
  force,
  lacking,
  type NotApplicable,
  notApplicable,
  placeAt,
  UNLOADED,
} from './frame-case.ts';
import { carried, luggageNote, weightOf } from './rider.ts';
import { centreOf, massOf, onMasses } from './statics.ts';

/** Closer than this to the hand, mm, the centre of mass says nothing about which way is down. */
const IN_THE_HAND = 10;
/** Three points carry in the plane if the triangle of the best three is wider than this, mm. */
const LINE = 5;

export function liftingCase(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'handle');
  if (absent) return absent;
  const masses = carried(context);
  const hang = sub(centreOf(masses), context.handleAt ?? placeAt(context, 'handle'));
  const down: Vec3 = norm(hang) > IN_THE_HAND ? unit(hang) : [0, 0, -1];
  const loads = onMasses(masses, () => scale(down, f.factor! * g));
  const tilt = (Math.acos(Math.min(1, Math.max(-1, -down[2]))) * 180) / Math.PI;
  return caseLoads(
    { supports: clamp(context.places.handle), fixtures: steeringLockIfAny(context), loads: [loads] },
    ['lifted'],
    {
      ranges: [{ label: 'standing to lifted', states: [UNLOADED, 0], cycles: 1 }],
      findings: [
        { what: 'force of the hand', unit: 'N', value: f.factor! * massOf(masses) * g },
        { what: 'tilt in which it hangs', unit: 'deg', value: tilt },
      ],
      notes: luggageNote(context),
    },
  );
}

export function foldedSeat(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'saddleClamp');
  if (absent) return absent;
  if (!spansPlane(context.stands.map((stand) => stand.at)))
    return notApplicable('folded, the bicycle does not stand by itself on three points');
  const weight = f.factor! * context.rider * g;
  const loads = [force(context.places.saddleClamp, [0, 0, -weight], context.saddle), ...weightOf(carried(context))];
  return caseLoads(
    { supports: [], fixtures: [...standOn(context), ...steeringLockIfAny(context)], loads: [loads] },
    ['sat on'],
    {
      ranges: [{ label: 'nobody to sat on', states: [UNLOADED, 0], cycles: 1 }],
      findings: [{ what: 'force on the saddle', unit: 'N', value: weight }],
      notes: luggageNote(context),
    },
  );
}

function spansPlane(points: readonly Vec3[]): boolean {
  const [first] = points;
  if (!first) return false;
  const far = points.reduce((best, at) => (norm(sub(at, first)) > norm(sub(best, first)) ? at : best), first);
  const d = sub(far, first);
  const length = Math.sqrt(d[0] * d[0] + d[1] * d[1]);
  return (
    length > LINE &&
    points.some((at) => Math.abs((at[0] - first[0]) * d[1] - (at[1] - first[1]) * d[0]) > LINE * length)
  );
}
