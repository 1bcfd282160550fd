/** Quantities of the frame's settle tier: joints that open, play, buckling, a life of use, blows, the folded seat. */
import { CASES_CAUTION, type CaseId, FATIGUE_CAUTION, frameCase } from '#kernel';
import { absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { OpenedCase } from '../run/frame-settle.ts';
import { placeWords, pointWords } from '../run/frame-words.ts';
import { belowOne, FATIGUE_SPREAD, FRAME_VALID, names, SCREENING, STRESS_SPREAD, whyNot } from './frame-shared.ts';

/** The service case that uses most with its joints as they open. */
function worstOpened(r: Results) {
  let worst: ({ readonly id: CaseId } & OpenedCase) | undefined;
  for (const [id, c] of r.framePlay!.opened) if (!worst || c.use > worst.use) worst = { id, ...c };
  return worst;
}

/** The lock that is nearest to opening after the most folds of usual wear. */
function worstWorn(r: Results): { joint: string; margin: number; preloadLeft: number } | undefined {
  let worst: { joint: string; margin: number; preloadLeft: number } | undefined;
  for (const lock of r.frameJoints!.ages) {
    const last = lock.usual.at(-1)!;
    if (Number.isFinite(last.margin) && (!worst || last.margin < worst.margin))
      worst = { joint: lock.joint, margin: last.margin, preloadLeft: last.preloadLeft };
  }
  return worst;
}

/** A step or a kerb may open a face for a moment. */
const blowWords = (margin: number): string =>
  margin < 1 ? `; a blow opens it for a moment (margin ${margin.toFixed(2)})` : '';

/** What is left of a lock after 5,000 and 20,000 folds. */
function ageWords(r: Results, joint: string): string | undefined {
  const lock = r.frameJoints!.ages.find((a) => a.joint === joint);
  if (!lock) return undefined;
  return lock.usual
    .filter((a) => a.folds > 0 && Number.isFinite(a.preloadLeft))
    .map(
      (a) =>
        `after ${a.folds} folds ${(100 * a.preloadLeft).toFixed(0)} % of the preload${Number.isFinite(a.margin) ? `, margin ${a.margin.toFixed(2)}` : ''}`,
    )
    .join('; ');
}

export const FRAME_SETTLE_FAMILIES: readonly Family[] = [
  {
    id: 'frame.least_opening',
    title: 'least margin of a joint against opening',
    symbol: 'm_o',
    unit: '',
    meaning: 'least of the margins of all joints whose face can open, in riding: seated, pedalling, starting, braking',
    tier: 'settle',
    needs: ['frame', 'frame_joints'],
    slots: single,
    read: (r) => r.frameJoints!.openings[0]?.margin ?? absent('no joint of this bicycle has a face that can open'),
    steps: ['The least of frame.opening.{joint}: what opens it over what riding asks of it.'],
    source: 'preload × arm of the face, docs/methods/frame-joints.md',
    standing: 'definition',
    valid:
      'linear model with closed joints; below 1 the face opens, its stiffness drops and its pin and latch carry all',
    spread: (r) => 0.3 * (r.frameJoints!.openings[0]?.margin ?? 0),
    caution: 'A latch that opens in use throws its rider. Preload falls with wear: see the ages of the joint.',
    note: (r) => {
      const o = r.frameJoints!.openings[0];
      return o && `${o.joint}: ${frameCase(o.frameCase).title.toLowerCase()}, ${o.state}${blowWords(o.blowMargin)}`;
    },
  },
  {
    id: 'frame.worn_opening',
    title: 'least margin of a joint against opening, worn',
    symbol: 'm_w',
    unit: '',
    meaning: 'the same after 20,000 folds of usual wear, never adjusted',
    tier: 'settle',
    needs: ['frame', 'frame_joints'],
    slots: single,
    read: (r) => worstWorn(r)?.margin ?? absent('no lock whose face can open has wear data'),
    steps: [
      'Preload after 20,000 folds by the wear model of the joint shelf, times the arm, over what riding asks of the face.',
    ],
    source: 'Archard wear, coefficients from memory: docs/methods/frame-joints.md',
    standing: 'memory',
    valid: 'usual wear; hard use can take all of a preload: see the locks of the candidate’s sheet',
    spread: (r) => 0.4 * (worstWorn(r)?.margin ?? 0),
    caution: 'A latch that opens in use throws its rider. Adjust and replace locks by a schedule that tests give.',
    note: (r) => {
      const worn = worstWorn(r);
      return worn && `${worn.joint}: ${(100 * worn.preloadLeft).toFixed(0)} % of its preload left`;
    },
  },
  {
    id: 'frame.opening.{joint}',
    title: 'margin of a joint against opening',
    symbol: 'm_o',
    unit: '',
    meaning:
      'force or moment that opens the joint over the greatest that riding asks of it: seated, pedalling, starting, braking',
    tier: 'settle',
    needs: ['frame', 'frame_joints'],
    slots: (n) => n.joints,
    read: (r, joint) =>
      r.frameJoints!.openings.find((o) => o.joint === joint)?.margin ??
      absent(`nothing opens ${joint}: it has no preload, no face that opens, or no load that pulls at it`),
    formula: 'M_o / M',
    inputs: (r, joint) => {
      const o = r.frameJoints!.openings.find((x) => x.joint === joint)!;
      const unit = o.component > 2 ? 'N.m' : 'N';
      const k = o.component > 2 ? 1e-3 : 1;
      return [
        { symbol: 'M_o', meaning: 'what opens it, from preload and arm', value: o.opensAt * k, unit },
        { symbol: 'M', meaning: `what ${o.frameCase} asks, ${o.state}`, value: o.asked * k, unit },
      ];
    },
    source: 'preload × arm of the face, docs/methods/frame-joints.md',
    standing: 'definition',
    valid:
      'linear model with closed joints; below 1 the face opens, its stiffness drops and its pin and latch carry all',
    spread: (r, joint) => 0.3 * (r.frameJoints!.openings.find((o) => o.joint === joint)?.margin ?? 0),
    caution: 'A latch that opens in use throws its rider. Preload falls with wear: see the ages of the joint.',
    note: (r, joint) => {
      const o = r.frameJoints!.openings.find((x) => x.joint === joint);
      return (
        [o ? blowWords(o.blowMargin).slice(2) : '', ageWords(r, joint) ?? ''].filter((t) => t !== '').join('; ') ||
        undefined
      );
    },
  },
  {
    id: 'frame.lost_motion.{place}',
    title: 'lost motion',
    symbol: 'd_0',
    unit: 'mm',
    meaning: 'free way that a hand feels before anything bends, locks as they are',
    tier: 'settle',
    needs: ['frame', 'frame_play'],
    slots: names(['grips', 'wheel']),
    read: (r, place) => {
      const l = r.framePlay!.looseness[place as 'grips' | 'wheel'];
      return l ? l.lostNow * 1e-3 : absent('the bicycle lacks the place');
    },
    steps: ['A vanishing force one way and the other; the way between is play that no preload takes up.'],
    source: 'tri-linear joints, docs/methods/frame-joints.md',
    standing: 'definition',
    valid: 'play of the joints as given; bearings of wheels and steerer without play',
    spread: () => 0.0002,
    note: (r, place) => {
      const l = r.framePlay!.looseness[place as 'grips' | 'wheel'];
      return (
        l &&
        `${(l.lostSlack).toFixed(2)} mm once every preload is gone; closed ${l.closed.toFixed(1)} mm, open ${l.open.toFixed(1)} and ${l.openBack.toFixed(1)} mm under the test force`
      );
    },
  },
  {
    id: 'frame.open_use',
    title: 'use of strength in service, joints as they open',
    symbol: 'u_o',
    unit: '',
    meaning: 'greatest stress over yield strength of all service cases with faces that open and pins that rattle',
    tier: 'settle',
    needs: ['frame', 'frame_play'],
    slots: single,
    read: (r) => worstOpened(r)?.use ?? absent('no service case applies to this bicycle'),
    steps: [
      'As frame.service_use, with one-sided joints: Newton steps on the straight branches of their laws until none changes.',
    ],
    source: 'docs/methods/frame-joints.md',
    standing: 'definition',
    valid: FRAME_VALID,
    spread: (r) => STRESS_SPREAD * (worstOpened(r)?.use ?? 0),
    caution: CASES_CAUTION,
    note: (r) => {
      const w = worstOpened(r);
      if (!w) return undefined;
      const open = w.open.length > 0 ? `${w.open.join(', ')} open` : 'all faces stay shut';
      return `${frameCase(w.id).title.toLowerCase()}: ${pointWords(r.frame!, w.point)}; ${open}`;
    },
  },
  {
    id: 'frame.buckling',
    title: 'least buckling factor',
    symbol: 'λ',
    unit: '',
    meaning: 'multiple of the worst load at which the frame would buckle elastically',
    tier: 'settle',
    needs: ['frame', 'frame_buckling'],
    slots: single,
    read: (r) => r.frameBuckling!.factor,
    steps: [
      'Linear solution, geometric stiffness of the compressed members, least factor at which the stiffness becomes singular (inertia counts prove that none was missed).',
      'For every service case and test, at its worst state.',
    ],
    source: 'Przemieniecki 1968, ch. 15',
    standing: 'published',
    valid: 'elastic, straight members, global: the wall of a thin tube buckles by its own rule (calc tube-buckling)',
    spread: (r) => 0.1 * r.frameBuckling!.factor,
    note: (r) => {
      const b = r.frameBuckling!;
      const member = b.member >= 0 ? placeWords(r.frame!.model.built.structure.members[b.member]!.name) : '';
      return `${frameCase(b.frameCase).title.toLowerCase()}, ${b.state}${member ? `: ${member}` : ''}`;
    },
  },
  {
    id: 'frame.use_reserve',
    title: 'reserve over a life of use',
    symbol: 'R_u',
    unit: '',
    meaning:
      "multiple of all stress ranges of a user's life at which Miner's sum reaches failure at the worst detail: a rank",
    tier: 'settle',
    needs: ['frame', 'frame_use'],
    slots: single,
    read: (r) => r.frameUse!.worst?.reserve ?? absent('no detail with a fatigue curve is stressed'),
    steps: [
      'Every event of the spectrum as a load case with its own figures; ranges at every detail, counts over the distance of a life.',
      'Palmgren–Miner with the last slope carried on; failure at 0.5 (IIW, spectra) or 1 (EN).',
      'The factor on all ranges at which the sum reaches failure, at the detail where it is least.',
    ],
    source: 'spectrum: default, from memory; IIW-1823-07, EN 1999-1-3',
    standing: 'memory',
    valid: 'the heaviest rider throughout; walls below the test base of the codes: a rank, no forecast',
    outside: (r) => belowOne(r.frameUse!.worst?.reserve),
    spread: (r) => FATIGUE_SPREAD * (r.frameUse!.worst?.reserve ?? 0),
    caution: FATIGUE_CAUTION,
    note: (r) => {
      const w = r.frameUse!.worst;
      if (!w) return undefined;
      const first = [...w.parts].sort((a, b) => b.share - a.share)[0]!;
      return `${r.frameUse!.distance_km} km: ${pointWords(r.frame!, w.point)}, ${w.detail.name}; Miner's sum ${Number(w.damage.toPrecision(2))}, ${(100 * first.share).toFixed(0)} % of it by ${first.case}`;
    },
  },
  {
    id: 'frame.{case}.set',
    title: 'permanent set after a blow',
    symbol: 's',
    unit: 'mm',
    meaning: 'greatest set of an energy balance with one plastic hinge: screening only, not for demands',
    tier: 'settle',
    needs: ['frame', 'frame_blows'],
    slots: names(SCREENING),
    read: (r, id) => {
      const b = r.frameBlows!.get(id as CaseId);
      return b ? b.set[1] * 1e-3 : whyNot(r, id);
    },
    steps: [
      'Elastic energy up to first yield, then one hinge at the worst place; least set with the plastic moment, greatest with the yield moment.',
    ],
    source: 'elastic–perfectly plastic energy balance (Baker & Heyman 1969)',
    standing: 'memory',
    valid: 'a screening estimate: one hinge, no rate effect, the mass of the frame at rest',
    spread: (r, id) => {
      const b = r.frameBlows!.get(id as CaseId);
      return b ? Math.max((b.set[1] - b.set[0]) * 1e-3, 0.3 * b.set[1] * 1e-3) : 0;
    },
    caution: CASES_CAUTION,
    note: (r, id) => {
      const b = r.frameBlows!.get(id as CaseId);
      return (
        b &&
        `${b.set[0].toFixed(0)} to ${b.set[1].toFixed(0)} mm${Number.isNaN(b.limit) ? '' : `; the test allows ${b.limit} mm`}`
      );
    },
  },
  {
    id: 'frame.folded_seat.use',
    title: 'folded: somebody sits on it',
    symbol: 'u',
    unit: '',
    meaning: 'stress over strength at the worst place of the folded bicycle with the heaviest rider sitting on it',
    tier: 'settle',
    needs: ['frame', 'frame_folded'],
    slots: single,
    read: (r) => r.frameFolded!.result.worst.use,
    steps: ['The package as it stands on its feet, joints as the procedure leaves them, what holds it as springs.'],
    source: 'docs/methods/frame-loads.md',
    standing: 'memory',
    valid: FRAME_VALID,
    spread: (r) => 0.25 * r.frameFolded!.result.worst.use,
    caution: CASES_CAUTION,
    note: (r) => {
      const f = r.frameFolded!;
      const p = f.points.points[f.result.worst.point];
      return p && placeWords(f.model.bearing.tubes[p.tube]!.name);
    },
  },
];
