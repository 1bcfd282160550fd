/** The structure of `candidates/*.yaml`. The words are explained in docs/project-files.md. */
import { z } from 'zod';
import { PLASTIC_STATES } from '../data/material-strength.ts';
import { amount, format, name, named, text, triple, yesNo } from './values.ts';

const station = name.describe('Name of a station.');
const body = name.describe('Name of a body.');
const material = text('Name of a material: 6061-T6.');
const state = z
  .enum(PLASTIC_STATES)
  .describe('State of a plastic: dry, conditioned (50 % humidity), long_term (1,000 h under load).');

const offsetPoint = z.strictObject({
  from: station.describe('Station to start from.'),
  by: triple('Offset from that station: [180 mm, 0, 20 mm].'),
});
const betweenPoint = z.strictObject({
  between: z.tuple([station, station]),
  at: amount('Share of the way from the first to the second: 0.5.'),
});
export const pointSchema = z.union([triple('Coordinates: [415 mm, 0, 300 mm].'), offsetPoint, betweenPoint]);

export const tubeSchema = z.strictObject({
  name: name.optional().describe('For exclusions, variants and sheets; else from the stations: hinge_to_crank.'),
  from: station,
  to: station,
  via: z
    .array(z.union([station, pointSchema]))
    .optional()
    .describe('Corners between the ends: stations or points.'),
  bend_radius: amount('Bend radius of the centre line at each corner: 60 mm. Absent: mitred corners.').optional(),
  section: text(
    'round 50 x 2 mm; oval or rectangular HEIGHT x WIDTH x WALL; round 40 x 2 to 30 x 1.5 mm when tapered.',
  ),
  material,
  state: state.optional(),
  welded: yesNo(
    'Ends welded; no: bonded or bolted, no heat-affected zone. Default: yes where the material is weldable.',
  ).optional(),
  detail: text('Fatigue detail at its ends, as in docs/methods/frame-fatigue.md: tube side fillet.').optional(),
});
export const axisSchema = z
  .union([
    z.enum(['x', 'y', 'z', '-x', '-y', '-z']),
    triple('Direction; its length does not matter.'),
    z.strictObject({ to: station.describe('Towards this station.') }),
  ])
  .describe('x, y, z, a direction [0.06, 0, 1], or {to: station}.');
export const blockSchema = z.strictObject({
  name: name.optional(),
  at: station,
  size: triple('Along its axis, across it, and third: [60 mm, 45 mm, 70 mm].'),
  axis: axisSchema.optional(),
  offset: triple('Centre of the block from the station, world axes.').optional(),
  material: material.optional(),
  state: state.optional(),
  fill: amount('Share of the envelope that is material: 35 %.').optional(),
  mass: amount('Mass, instead of material and fill: 0.3 kg.').optional(),
  to: station
    .optional()
    .describe(
      'Far end: the block then bears load from `at` to there, by its section or its stiffness; its axis and centre lie between the two unless given. Without: rigid.',
    ),
  section: z
    .strictObject({
      area: amount('620 mm2.'),
      side: amount('Second moment against bending seen from the side: 210000 mm4.'),
      top: amount('Second moment against bending seen from above: 90000 mm4.'),
      twist: amount('Torsion constant: 160000 mm4.'),
    })
    .optional(),
  stiffness: z
    .array(z.array(z.number()).length(6))
    .length(6)
    .optional()
    .describe(
      'Forces (N) and moments (N.mm) at `to` for unit motions there (mm, rad) with `at` clamped; axes: along, height, and the width that completes the right-handed set (to the right of a block that runs forward).',
    ),
});
export const hardwareSchema = z.strictObject({
  principle: text(
    'Locking or hinge principle of the joint shelf: face_toggle. Fills in what is left out here.',
  ).optional(),
  face: z
    .tuple([amount('across'), amount('along the axis')])
    .optional()
    .describe(
      'Section in which the joint parts: [45, 60 mm]; else from `shape`, else the largest tube that ends here.',
    ),
  lever: amount('Hand lever of the lock: 110 mm.').optional(),
  open: amount('Share of the stiffness that is left when the face has opened: 25 %.').optional(),
  shape: text('box ALONG x ACROSS x AXIS: box 60 x 45 x 70 mm.').optional(),
  offset: triple('Centre from the joint: along the member, across it, along the axis.').optional(),
  estimated: amount('Share by which the size may be wrong: 15 %.').optional(),
  mass: amount('0.45 kg; default by kind.').optional(),
  stiffness: z
    .strictObject({
      bend_across: amount('Bending about the axis along the joint pin: 35 kN.m/rad.').optional(),
      bend_along: amount('Bending about the axis across it: 12 kN.m/rad.').optional(),
      twist: amount('Twist about the member: 20 kN.m/rad.').optional(),
      pull: amount('Along the member: 80 kN/mm.').optional(),
      shear_across: amount('Across the member: 40 kN/mm.').optional(),
      shear_along: amount('Along the joint axis: 40 kN/mm.').optional(),
    })
    .optional(),
  preload: amount('Closing force of the lock: 2.5 kN.').optional(),
  play: amount('Free angle (0.02 deg) of a pivot or way (0.05 mm) of a slide.').optional(),
  hand_force: amount('Force of the hand that works the lock: 60 N.').optional(),
  actions: z.number().int().min(0).max(9).optional().describe('Hand actions to release it; a second catch counts.'),
});
export const jointSchema = z.strictObject({
  kind: z.enum(['pivot', 'slide', 'steerer', 'post', 'pin']),
  held: z.enum(['latch', 'clamp', 'loop', 'none']).optional().describe('What keeps it still while riding; none.'),
  between: z.tuple([body, body]).describe('A positive value moves the second body relative to the first.'),
  at: z.union([station, z.tuple([station, station])]).describe('A station, or one on each body.'),
  axis: axisSchema,
  turn: z
    .tuple([amount('least'), amount('most')])
    .optional()
    .describe('[0, 178 deg], for joints that turn.'),
  travel: z
    .tuple([amount('least'), amount('most')])
    .optional()
    .describe('[-200 mm, 0], for slides and posts.'),
  cut_out: amount('Members that end here are cut short by this in the clearance check: 45 mm.').optional(),
  hardware: hardwareSchema.optional(),
});

/** Fields that every part has; those of its kind (size, mass, ring...) are checked against the part itself. */
export const partSchema = z.looseObject({
  part: text('Name of a built-in part or of one in parts.yaml: wheel 40-406 front.'),
  name: name.optional(),
  body: body.optional(),
  at: station,
});
export const motorSchema = z.strictObject({
  power: amount('Continuous rated power: 250 W.').optional(),
  assists_to: amount('Speed at which assistance ends: 25 km/h.').optional(),
  walks_at: amount('Speed that it gives without pedalling, as walking help: 6 km/h. Default: none.').optional(),
  assist: amount('Motor over rider: 100 %.').optional(),
  volts: z.number().positive().optional().describe('Rated voltage: 36.'),
  throttle: yesNo(
    'Drives without pedalling beyond walking speed. Default: no, unless it is the only drive.',
  ).optional(),
});
export const driveSchema = z.strictObject({
  kind: z.enum(['chain', 'belt', 'hub_motor', 'none']),
  from: station.optional().describe('Station of the chainring; crank.'),
  to: station.optional().describe('Station of the sprocket; rear_hub.'),
  at: station.optional().describe('Hub of a hub motor.'),
  side: z.enum(['left', 'right']).optional(),
  releasable: yesNo('The chain or belt comes off, or opens, when folding.').optional(),
  sprockets: z
    .array(z.number().int().min(5).max(80))
    .min(1)
    .optional()
    .describe(
      'Teeth of the sprockets of a derailleur, instead of the crankset’s one: [11, 13, 15, 18, 21, 24, 28, 32].',
    ),
  ratios: z
    .array(z.number().gt(0.05).max(20))
    .min(1)
    .optional()
    .describe('Turns of the wheel per turn of the sprocket in each gear of the hub: [0.733, 1, 1.364].'),
  hub_line: amount('Sprocket, or the middle of several, to the mid-plane: 43 mm.').optional(),
  links: z.number().int().min(20).max(400).optional().describe('Links of the chain, or teeth of the belt.'),
  belt_pitch: amount('Pitch of the belt: 11 mm.').optional(),
  adjust: amount('How far the rear hub can be moved back to tighten: 12 mm.').optional(),
  tensioner: amount('Length of chain that a sprung tensioner takes up: 60 mm.').optional(),
  motor: motorSchema.optional().describe('Figures of the motor that stands under parts (hub motor, mid drive).'),
});
export const cableSchema = z.strictObject({
  name,
  along: z
    .array(z.tuple([body, station]))
    .min(2)
    .describe('Where it is held: [body, station], from end to end.'),
  slack: amount('Length to spare over the path while riding: 60 mm.').optional(),
  min_bend: amount('Least bend radius: 40 mm.').optional(),
});
export const moveSchema = z.strictObject({
  move: z.enum(['release', 'turn', 'slide', 'lower', 'lock']),
  joint: name,
  to: amount('Value of the joint at the end of the move: 178 deg, -300 mm.').optional(),
});
export const holdSchema = z.strictObject({
  name,
  kind: z.enum(['catch', 'magnet', 'strap', 'latch', 'friction']),
  between: z.tuple([body, body]).optional(),
  at: station.optional(),
  force: amount('Force at which it opens: 60 N.').optional(),
  joint: name.optional().describe('friction: the joint.'),
  torque: amount('friction: torque that turns the joint: 4 N.m.').optional(),
});
export const foldedSchema = z.strictObject({
  holds: z.array(holdSchema).optional(),
  rolls_on: z.array(z.string()).optional().describe('Parts or shapes on which the package rolls.'),
  stands_on: z.array(z.string()).optional().describe('Parts or shapes on which the package stands.'),
  handle: z.strictObject({ body, at: station }).optional().describe('Where the hand carries it.'),
});
const settings = z
  .record(z.string(), z.unknown())
  .describe('Path of a field and its new value: bodies.rear.tubes.beam.section: round 50 x 1.5 mm');
export const weighedSchema = z.strictObject({
  mass: amount('Weighed mass: 4.3 kg.'),
  spread: amount('Standard uncertainty of the weighing: 0.02 kg.').optional(),
});

export const candidateSchema = z.strictObject({
  format,
  candidate: text('The name people see.'),
  note: z.string().optional(),
  dimensions: named(amount('A number with its unit, or an expression of other dimensions.')).optional(),
  stations: named(pointSchema),
  bodies: named(
    z.strictObject({
      tubes: z.array(tubeSchema).optional(),
      blocks: z.array(blockSchema).optional(),
      heat_treated: yesNo(
        'Solution-treated and aged after welding: the metal beside the welds is as strong as the tube.',
      ).optional(),
    }),
  ),
  joints: named(jointSchema).optional(),
  parts: z.array(partSchema).optional(),
  drive: driveSchema.optional(),
  cables: z.array(cableSchema).optional(),
  fold: z.array(moveSchema).optional(),
  folded: foldedSchema.optional(),
  exclude: z
    .array(
      z.strictObject({
        between: z.tuple([z.string(), z.string()]).describe('Bodies, or shapes as body.name, part or joint name.'),
        because: text('Why these two may touch.'),
      }),
    )
    .optional(),
  weighed: named(weighedSchema).optional().describe('By body, or `total`: weighing overrides prediction.'),
  fasteners: z.number().int().min(0).optional().describe('Screws, nuts, rivets and pins, counted.'),
  variants: named(
    z.strictObject({
      note: z.string().optional(),
      competes: yesNo(
        'Stands in the choice beside the others. no: judged only when it is named. Default: yes.',
      ).optional(),
      set: settings,
    }),
  ).optional(),
});
/** A file that holds nothing but differences from another candidate. */
export const differenceSchema = z.strictObject({
  format,
  candidate: text('The name people see.'),
  note: z.string().optional(),
  base: name.describe('File name of the candidate that it changes, without .yaml.'),
  set: settings,
});

export type CandidateData = z.infer<typeof candidateSchema>;
export type TubeData = z.infer<typeof tubeSchema>;
export type BlockData = z.infer<typeof blockSchema>;
export type JointData = z.infer<typeof jointSchema>;
export type HardwareData = z.infer<typeof hardwareSchema>;
export type PartData = z.infer<typeof partSchema>;
export type PointData = z.infer<typeof pointSchema>;
export type AxisData = z.infer<typeof axisSchema>;
export type DifferenceData = z.infer<typeof differenceSchema>;
