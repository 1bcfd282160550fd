/** Quantities of hand checks: walls that buckle, welds, pins of hinges, clamps of posts. */
import { CASES_CAUTION, type CaseId, frameCase } from '#kernel';
import { absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import { type CheckedPlace, PIN, POST_FRICTION } from '../run/frame-checks.ts';
import { pointWords } from '../run/frame-words.ts';

/** Sizes that the file does not give (pins, throats) and the friction of a post: as a share; default, from memory. */
const GUESSED = 0.3;
const WALL_SPREAD = 0.2;

const stateWords = (id: CaseId, state: string): string => `${frameCase(id).title.toLowerCase()}, ${state}`;
function placeNote(r: Results, p: CheckedPlace): string {
  const state = r.frame!.cases.get(p.frameCase)!.loads.labels[p.state]!;
  return `${stateWords(p.frameCase, state)}: ${pointWords(r.frame!, p.point)}`;
}
/** Throats are made to tenths of a millimetre. */
function throatNote(r: Results, p: CheckedPlace): string {
  const { wall } = r.frame!.points.points[p.point]!.section;
  const least = Math.ceil(10 * p.use * wall) / 10;
  return `${placeNote(r, p)}; ${p.use > 1 ? `needs a throat of about ${least} mm on a wall of ${wall} mm` : 'a throat as thick as the wall will do'}`;
}

export const FRAME_CHECK_FAMILIES: readonly Family[] = [
  {
    id: 'frame.wall_buckling',
    title: 'use of the walls against buckling',
    symbol: 'u_b',
    unit: '',
    meaning:
      'compression and bending over the stress at which the wall of a tube buckles, at the worst place of all cases',
    tier: 'settle',
    needs: ['frame', 'frame_checks'],
    slots: single,
    read: (r) => r.frameChecks!.wall?.use ?? absent('no tube with a wall is stressed'),
    steps: [
      'At every stress point: compression over its strength plus bending over its own, elastic stress of the shell knocked down for imperfections and cut off by yield.',
      'All service cases and standard tests; states that may bend the part are left out.',
    ],
    source: 'NASA SP-8007, EN 1993-1-6, Gardner & Chan 2007 for ovals; from memory',
    standing: 'memory',
    valid: 'plain walls: no dents, holes or wrinkles of bends; stocky tubes come near their use of yield strength',
    spread: (r) => WALL_SPREAD * (r.frameChecks!.wall?.use ?? 0),
    caution: CASES_CAUTION,
    note: (r) => r.frameChecks!.wall && placeNote(r, r.frameChecks!.wall),
  },
  {
    id: 'frame.weld_use',
    title: 'use of the welds at tube ends',
    symbol: 'u_w',
    unit: '',
    meaning:
      'stress in the throat of a fillet as thick as the wall, over what weld metal allows, at the worst tube end',
    tier: 'settle',
    needs: ['frame', 'frame_checks'],
    slots: single,
    read: (r) => r.frameChecks!.weld?.use ?? absent('no end of a tube is welded with a metal of known strength'),
    steps: [
      'Forces at every welded end of a tube on a ring of its outline with a throat as thick as its wall; directional method.',
      'Aluminium: 190 MPa for 6061 and its like by alloy, over 1.25; steel: ultimate strength beside the weld over β_w · 1.25.',
    ],
    source: 'EN 1993-1-8, 4.5.3.2; EN 1999-1-1, 8.6.3.3 and Table 8.8 (filler 5356); from memory',
    standing: 'memory',
    valid:
      'a plain fillet all round: above 1 the weld wants a thicker throat or full penetration; the figure holds a partial factor of 1.25 that frame.service_use does not',
    spread: (r) => GUESSED * (r.frameChecks!.weld?.use ?? 0),
    caution:
      'A fillet breaks without warning. Let a qualified welder weld test pieces, cut and break them before any frame is ridden.',
    note: (r) => r.frameChecks!.weld && throatNote(r, r.frameChecks!.weld),
  },
  {
    id: 'frame.pin_use.{joint}',
    title: 'use of the pin',
    symbol: 'u_p',
    unit: '',
    meaning: 'shear, bending and pressure of a hinge pin over its resistance, at the worst state of all cases',
    tier: 'settle',
    needs: ['frame', 'frame_checks'],
    slots: (n) => n.joints,
    read: (r, joint) =>
      r.frameChecks!.pins.find((p) => p.joint === joint)?.use ??
      absent(`${joint} has no pin of a named principle between parts that bear load`),
    steps: [
      'Forces of the joint as one force square to the pin: pull and bending parted by the arm of the latch and the length of the pin, with the preload; shear and twist across.',
      'Knuckles of a quarter, a half and a quarter of its length, gap 0.1 mm.',
    ],
    source: 'EN 1993-1-8, 3.13 and Table 3.10; from memory',
    standing: 'memory',
    valid: `pins that the file does not size: ${PIN.latch.diameter} mm solid where a latch holds, ${PIN.plain.diameter} × ${(PIN.plain.diameter - PIN.plain.bore) / 2} mm hollow in plain pivots, 42CrMo4+QT, default, from memory; lugs as strong as the tubes`,
    spread: (r, joint) => GUESSED * (r.frameChecks!.pins.find((p) => p.joint === joint)?.use ?? 0),
    caution: CASES_CAUTION,
    note: (r, joint) => {
      const p = r.frameChecks!.pins.find((x) => x.joint === joint);
      return p && `${stateWords(p.frameCase, p.state)}: ${(p.load / 1e3).toFixed(1)} kN on a pin of ${p.diameter} mm`;
    },
  },
  {
    id: 'frame.clamp_slip.{joint}',
    title: 'use of the grip of a post clamp',
    symbol: 'u_s',
    unit: '',
    meaning:
      'push and torque on a clamped post over what friction holds, in riding and under the tests of saddle and post',
    tier: 'settle',
    needs: ['frame', 'frame_checks'],
    slots: (n) => n.joints,
    read: (r, joint) =>
      r.frameChecks!.clamps.find((c) => c.joint === joint)?.use ??
      absent(`${joint} is no post in a slit tube that a cam or screw of the shelf draws together`),
    steps: [
      'A band drawn with the preload presses with twice that; two lines of contact (the lesser hold).',
      `Push and torque together, friction ${POST_FRICTION}; bending of the post presses it on and is left out.`,
    ],
    source: 'statics and Coulomb friction; friction default, from memory',
    standing: 'memory',
    valid: 'dry, clean post with the preload of the shelf; grease takes a third of the hold, wear more',
    spread: (r, joint) => GUESSED * (r.frameChecks!.clamps.find((c) => c.joint === joint)?.use ?? 0),
    caution:
      'A post that slips changes how the rider sits and steers. Minimum insertion is not checked here: mark it on the post.',
    note: (r, joint) => {
      const c = r.frameChecks!.clamps.find((x) => x.joint === joint);
      if (!c) return undefined;
      const blow = c.blowUse > 1 ? `; a blow makes it slip (${c.blowUse.toFixed(2)})` : '';
      return `${stateWords(c.frameCase, c.state)}: ${Math.abs(c.push).toFixed(0)} N along the post${blow}`;
    },
  },
];
