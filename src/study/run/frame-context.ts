/**
 * A candidate's beam model in one posture, with everything that load cases ask about it: places, masses, rider.
 *
 * In the ride posture the seat post stands where the heaviest rider wants it: the longest lever that the bicycle meets.
 * Folded, joints are as the procedure leaves them and what holds the package together bears load like a joint.
 * Units: mm, kg, N. Not here: loads, stresses.
 */
import {
  add,
  at3,
  BRIDGE,
  type BuiltFrame,
  buildFrame,
  compose,
  cross,
  type FoldPlan,
  FREEDOM,
  type FrameContext,
  type FrameHinge,
  footOn,
  HELD,
  type HingeState,
  invert,
  type Lump,
  lineOf,
  MASS_SIZE,
  type Model,
  movePoint,
  norm,
  PEDAL_OUT,
  type PlaceAt,
  pitchRadius,
  poseFolded,
  rotationAbout,
  type State,
  scale,
  sideOf,
  sub,
  turnVector,
  type Vec3,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import { type LoadBearing, mm, stationMm } from './frame-parts.ts';
import { luggagePoint } from './luggage.ts';
import { type Seated, seatOn } from './steer.ts';

/** Places where a frame that bears nothing there is a frame that is not drawn yet. */
const NEAR: Readonly<Partial<Record<(typeof PLACES)[number], { readonly name: string; readonly within: number }>>> = {
  rearAxle: { name: 'rear axle', within: BRIDGE },
  frontAxle: { name: 'front axle', within: BRIDGE },
  crank: { name: 'bottom bracket', within: BRIDGE },
};

export interface FrameModel {
  readonly built: BuiltFrame;
  readonly context: FrameContext;
  /** The heaviest rider as seated; undefined in the folded posture. */
  readonly seated: Seated | undefined;
  readonly bearing: LoadBearing;
}

/** Share of a seated rider's weight on level pedals: the legs' own; default, from memory. */
const ON_PEDALS = 0.25;
/** Least share on the hands, so that a load case has arms that bear; default, from memory. */
const ON_HANDS = 0.05;
/** Stiffness of what holds the package together: hook, catch, strap; N/mm; default, from memory. */
const HOLD = 500;

const PLACES = [
  'rearAxle',
  'frontAxle',
  'crank',
  'saddleClamp',
  'barClamp',
  'gripLeft',
  'gripRight',
  'barEndLeft',
  'barEndRight',
  'luggage',
  'handle',
] as const;

/** @param s filled, ride posture; it is left there. */
export function rideFrame(candidate: ResolvedCandidate, s: State, bearing: LoadBearing, setting: Setting): FrameModel {
  const { model } = candidate;
  const seated = seatOn(model, s, setting.heaviest);
  const bodyT = s.bodyT.slice();
  raisePost(model, s, seated.saddle.raise, bodyT);
  const hinges = bearing.hinges.map((): HingeState => 'locked');
  return frameIn(candidate, s, bearing, setting, { bodyT, hinges, seated, stands: [] });
}

/** @param plan of the fold that leads to the package. @param up where up is for the package as it stands, in the posed frame. */
export function foldedFrame(
  candidate: ResolvedCandidate,
  s: State,
  bearing: LoadBearing,
  setting: Setting,
  plan: FoldPlan,
  up: Vec3,
): FrameModel {
  const { model } = candidate;
  const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  poseFolded(model, plan, here);
  standUp(here.bodyT, up);
  const joints = model.top.kind.length;
  const last = plan.freedom.subarray(plan.freedom.length - joints);
  const holds = holders(model, s);
  const hinges = [
    ...bearing.hingeJoint.map((j): HingeState => {
      if (last[j] === FREEDOM.absent) return 'absent';
      // what never had a lock is free by its own laws
      return last[j] === FREEDOM.free && model.top.held[j] !== HELD.none && model.top.held[j] !== HELD.loop
        ? 'free'
        : 'locked';
    }),
    ...holds.map((): HingeState => 'locked'),
  ];
  const tied = { ...bearing, hinges: [...bearing.hinges, ...holds] };
  return frameIn(candidate, s, tied, setting, {
    bodyT: here.bodyT,
    hinges,
    seated: undefined,
    stands: standPoints(model, s, here),
  });
}

/** Turns the posture so that `up` points up. */
function standUp(bodyT: Float64Array, up: Vec3): void {
  const square = cross(up, [0, 0, 1]);
  const sine = norm(square);
  if (sine < 1e-12 && up[2] > 0) return;
  const turn = new Float64Array(12);
  // upside down there is no axis to prefer
  const [ax, ay, az] = sine < 1e-12 ? ([1, 0, 0] as const) : scale(square, 1 / sine);
  rotationAbout(0, 0, 0, ax, ay, az, Math.atan2(sine, up[2]), turn);
  const out = new Float64Array(12);
  for (let o = 0; o < bodyT.length; o += 12) {
    compose(turn, 0, bodyT, o, out, 0);
    bodyT.set(out, o);
  }
}

interface Stance {
  readonly bodyT: Float64Array;
  readonly hinges: readonly HingeState[];
  readonly seated: Seated | undefined;
  readonly stands: readonly { readonly body: number; readonly at: Vec3 }[];
}

function frameIn(
  candidate: ResolvedCandidate,
  s: State,
  bearing: LoadBearing,
  setting: Setting,
  stance: Stance,
): FrameModel {
  const { model } = candidate;
  const { roles, wheels } = model;
  const bar = candidate.parts.find((p) => p.kind === 'handlebar');
  const barEnd = (side: 'left' | 'right'): Pick<PlaceAt, 'body' | 'point'> => {
    const half = bar && bearing.tubes.find((t) => t.name === `${bar.name} ${side}` && t.body === bar.body);
    return half ? { body: half.body, point: half.points.at(-1)! } : { body: -1, point: [0, 0, 0] };
  };
  const off = (station: number, body: number): Pick<PlaceAt, 'body' | 'point'> =>
    station < 0 ? { body: -1, point: [0, 0, 0] } : { body, point: stationMm(s, station) };
  const luggage = luggagePlace(candidate, s, bearing, setting);
  const where: Record<(typeof PLACES)[number], Omit<PlaceAt, 'name'>> = {
    rearAxle: off(wheels.rear.station, wheels.rear.body),
    frontAxle: off(wheels.front.station, wheels.front.body),
    crank: off(roles.crank, roles.crankBody),
    saddleClamp: saddleClamp(model, s, bearing),
    barClamp: bar ? { body: bar.body, point: stationMm(s, bar.station) } : { body: -1, point: [0, 0, 0] },
    gripLeft: off(roles.gripLeft, roles.gripBody),
    gripRight: off(roles.gripRight, roles.gripBody),
    barEndLeft: barEnd('left'),
    barEndRight: barEnd('right'),
    luggage: { body: luggage.body, point: luggage.point, aside: true },
    handle: { ...off(model.handle.station, model.handle.body), aside: true },
  };
  // loads enter where places are; the feet of the package are places too
  const places: PlaceAt[] = [
    ...PLACES.map((name) => ({ name, ...where[name], ...NEAR[name] })),
    ...stance.stands.map((p, i) => ({ name: `stand ${i + 1}`, body: p.body, point: p.at })),
  ];
  const built = buildFrame(
    { tubes: bearing.tubes, blocks: bearing.blocks, hinges: bearing.hinges, places },
    { bodyT: stance.bodyT, hinges: stance.hinges },
  );
  const node = (name: (typeof PLACES)[number]): number => built.placeNode[PLACES.indexOf(name)]!;
  const pose = (body: number, p: Vec3): Vec3 => mm(movePoint(stance.bodyT, 12 * body, scale(p, 1e-3)));
  const post = roles.seatPost < 0 ? -1 : bearing.hingeJoint.indexOf(roles.seatPost);
  const steerer = bearing.hinges.find((h) => h.kind === 'steerer');
  const seat = stance.seated?.seat;
  const lumps = lumpsOf(candidate, s, built, stance.bodyT);
  const mass = lumps.reduce((sum, l) => sum + l.mass, 0);
  const com = lumps.reduce<Vec3>((sum, l) => add(sum, scale(l.at, l.mass / mass)), [0, 0, 0]);
  const v = s.value;
  const chain = model.drive.kind === 'chain' || model.drive.kind === 'belt';
  const radius = (slot: number): number => (chain && slot >= 0 ? 1e3 * pitchRadius(v[slot]!) : Number.NaN);
  const upward = (axis: Vec3): Vec3 => (axis[2] < 0 ? scale(axis, -1) : axis);
  const context: FrameContext = {
    structure: built.structure,
    places: {
      rearAxle: node('rearAxle'),
      frontAxle: node('frontAxle'),
      crank: node('crank'),
      saddleClamp: node('saddleClamp'),
      postClamp: post < 0 ? node('saddleClamp') : built.hingeNodes[post]![0],
      barClamp: node('barClamp'),
      gripLeft: node('gripLeft'),
      gripRight: node('gripRight'),
      barEndLeft: node('barEndLeft'),
      barEndRight: node('barEndRight'),
      headTop: built.head.top,
      headBottom: built.head.bottom,
      crown: built.head.crown,
      luggage: luggage.body < 0 ? -1 : node('luggage'),
      handle: node('handle'),
    },
    steerAxis: steerer ? upward(steerer.axis) : [0, 0, 1],
    postAxis: post < 0 ? [0, 0, 1] : upward(bearing.hinges[post]!.axis),
    saddle: pose(roles.saddleBody, stationMm(s, roles.saddle)),
    crankLength: model.crankLength < 0 ? 170 : 1e3 * v[model.crankLength]!,
    pedalOut: pedalOut(candidate, s),
    ringRadius: radius(model.drive.ring),
    sprocketRadius: radius(model.drive.sprocket),
    chainline: chainline(candidate, s),
    rearRadius: 1e3 * v[wheels.rear.loadedRadius]!,
    frontRadius: 1e3 * v[wheels.front.loadedRadius]!,
    rearTyre: 1e3 * v[wheels.rear.width]!,
    frontTyre: 1e3 * v[wheels.front.width]!,
    wheelbase: stationMm(s, wheels.front.station)[0] - stationMm(s, wheels.rear.station)[0],
    mass,
    com,
    lumps,
    stands: stance.stands.map((p, i) => ({
      node: built.placeNode[PLACES.length + i]!,
      at: pose(p.body, p.at),
    })),
    rider: setting.heaviest.mass,
    luggage: setting.luggage?.mass ?? 0,
    luggageAt: pose(Math.max(luggage.body, 0), luggage.middle),
    ...(model.handle.station < 0 ? {} : { handleAt: pose(model.handle.body, stationMm(s, model.handle.station)) }),
    seated: seat ? seatedShares(model, s, mm(seat.rigid.com), seatSaddle(stance.seated!)) : [1, 0, 0],
    riderCom: seat ? mm(seat.rigid.com) : [0, 0, 0],
    shoulder: seat ? mm(seat.shoulder) : [0, 0, 0],
  };
  return { built, context, seated: stance.seated, bearing };
}

const seatSaddle = (seated: Seated): Vec3 => mm(seated.saddle.saddle);

/** Moves everything beyond the seat post along it. */
function raisePost(model: Model, s: State, raise: number, bodyT: Float64Array): void {
  const j = model.roles.seatPost;
  if (j < 0 || raise === 0) return;
  const axis = at3(s.joint, 6 * j + 3);
  const up = scale(axis, (axis[2] < 0 ? -1 : 1) * raise);
  const side = sideOf(model.top, j);
  for (let b = 0; b < side.length; b++) if (side[b]) for (let k = 0; k < 3; k++) bodyT[12 * b + 4 * k + 3]! += up[k]!;
}

/** The end of the post that is nearest to the saddle. */
function saddleClamp(model: Model, s: State, bearing: LoadBearing): Pick<PlaceAt, 'body' | 'point'> {
  const { saddle, saddleBody } = model.roles;
  if (saddle < 0) return { body: -1, point: [0, 0, 0] };
  const at = stationMm(s, saddle);
  const ends = bearing.tubes
    .filter((t) => t.body === saddleBody)
    .flatMap((t) => [t.points[0]!, t.points.at(-1)!])
    .sort((a, b) => norm(sub(a, at)) - norm(sub(b, at)));
  return { body: saddleBody, point: ends[0] ?? at };
}

/** A rack or bag holder as near to the luggage as this carries it, mm: the height of a bag. */
const ON_RACK = 300;

/**
 * The body that carries the luggage, where it is tied to it, and its own middle. Legs of a rack stand on the axle of the wheel
 * below; without a rack the luggage hangs on the nearest member that bears load.
 */
function luggagePlace(
  candidate: ResolvedCandidate,
  s: State,
  bearing: LoadBearing,
  setting: Setting,
): { body: number; point: Vec3; middle: Vec3 } {
  const { model } = candidate;
  const none = { body: -1, point: [0, 0, 0] as Vec3, middle: [0, 0, 0] as Vec3 };
  if (!setting.luggage) return none;
  const found = luggagePoint(model, s, setting.luggage.at);
  if (!found) return none;
  const middle = mm(found);
  const bodies = new Set(bearing.tubes.map((t) => t.body));
  const racks = candidate.parts
    .filter((p) => (p.kind === 'rack' || p.kind === 'bag') && p.station >= 0 && bodies.has(p.body))
    .map((p) => ({ body: p.body, kind: p.kind, d: norm(sub(stationMm(s, p.station), middle)) }))
    .sort((a, b) => a.d - b.d);
  if (racks[0] && racks[0].d < ON_RACK) {
    const { body, kind } = racks[0];
    const below = kind === 'rack' && [model.wheels.rear, model.wheels.front].find((w) => w.body === body);
    return { body, point: below ? stationMm(s, below.station) : middle, middle };
  }
  const turns = model.roles.steerer < 0 ? undefined : sideOf(model.top, model.roles.steerer);
  // luggage is carried by the frame where a member of it is about as near as the bar's
  let best = Number.POSITIVE_INFINITY;
  let body = -1;
  for (const t of bearing.tubes) {
    const d = footOn(lineOf(t), middle).distance * (turns?.[t.body] ? 2 : 1);
    if (d < best) {
      best = d;
      body = t.body;
    }
  }
  return { body, point: middle, middle };
}

function pedalOut(candidate: ResolvedCandidate, s: State): number {
  const { nCapsule, nDisc } = candidate.model.top;
  const outs = candidate.parts
    .filter((p) => p.kind === 'pedal')
    .flatMap((p) => p.shapes.filter((i) => i >= nCapsule + nDisc))
    .map((i) => Math.abs(1e3 * s.box[15 * (i - nCapsule - nDisc) + 1]!));
  return outs.length > 0 ? outs.reduce((a, b) => a + b, 0) / outs.length : 1e3 * PEDAL_OUT;
}
/** Chain from the mid-plane, negative on the right: where the chainring's disc is. */
function chainline(candidate: ResolvedCandidate, s: State): number {
  const { nCapsule, nDisc } = candidate.model.top;
  const crankset = candidate.parts.find((p) => p.kind === 'crankset');
  const disc = crankset?.shapes.find((i) => i >= nCapsule && i < nCapsule + nDisc);
  if (disc === undefined) return Number.NaN;
  return 1e3 * s.disc[8 * (disc - nCapsule) + 1]!;
}

/**
 * The bicycle's masses on the nodes that carry them, one lump a node at the centre of what hangs there. A body without
 * members of its own (cranks, pedals) hangs on the nearest node of any.
 */
function lumpsOf(candidate: ResolvedCandidate, s: State, built: BuiltFrame, bodyT: Float64Array): Lump[] {
  const { top } = candidate.model;
  const { nodes } = built.structure;
  const ofBody: number[][] = Array.from({ length: top.bodyCount }, () => []);
  const all = nodes.map((_, n) => n);
  for (const n of all) ofBody[built.nodeBody[n]!]!.push(n);
  // mass and first moments of every node
  const sums = new Float64Array(4 * nodes.length);
  for (let e = 0; e < top.massBody.length; e++) {
    const mass = s.mass[MASS_SIZE * e]!;
    if (!(mass > 0)) continue;
    const body = top.massBody[e]!;
    const at = mm(movePoint(bodyT, 12 * body, at3(s.mass, MASS_SIZE * e + 1)));
    let best = Number.POSITIVE_INFINITY;
    let node = 0;
    for (const n of ofBody[body]!.length > 0 ? ofBody[body]! : all) {
      const p = nodes[n]!.at;
      const [dx, dy, dz] = [p[0] - at[0], p[1] - at[1], p[2] - at[2]];
      const d = dx * dx + dy * dy + dz * dz;
      if (d < best) {
        best = d;
        node = n;
      }
    }
    sums[4 * node]! += mass;
    for (let k = 0; k < 3; k++) sums[4 * node + 1 + k]! += mass * at[k]!;
  }
  return all.flatMap((node) => {
    const mass = sums[4 * node]!;
    return mass > 0 ? [{ node, mass, at: scale(at3(sums, 4 * node + 1), 1 / mass) }] : [];
  });
}

/** Shares of a seated rider on saddle, hands, pedals: the legs' weight on the pedals, the rest by moments about the saddle. */
function seatedShares(model: Model, s: State, com: Vec3, saddle: Vec3): readonly [number, number, number] {
  const grip = (stationMm(s, model.roles.gripLeft)[0] + stationMm(s, model.roles.gripRight)[0]) / 2;
  const crank = stationMm(s, model.roles.crank)[0];
  const hands = (com[0] - saddle[0] - ON_PEDALS * (crank - saddle[0])) / (grip - saddle[0]);
  const held = Math.min(Math.max(hands, ON_HANDS), 1 - ON_PEDALS);
  return [1 - ON_PEDALS - held, held, ON_PEDALS];
}

/** What holds the package: springs between the bodies that it ties, at its station. */
function holders(model: Model, s: State): FrameHinge[] {
  return model.holders.flatMap((h): FrameHinge[] => {
    if (h.kind === 'friction' || h.bodies[0] < 0 || h.bodies[1] < 0 || h.station < 0) return [];
    const at = stationMm(s, h.station);
    const spring = { closed: HOLD };
    const free = { closed: 0 };
    return [
      {
        name: h.name,
        kind: 'pin',
        bodies: h.bodies,
        at,
        axis: [0, 1, 0],
        centre: at,
        axes: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
        cutOut: 0,
        laws: [spring, spring, spring, free, free, free],
      },
    ];
  });
}

/** Lowest points of what the package stands on, each in the drawing of its body (ride posture), mm. */
function standPoints(model: Model, s: State, here: State): { body: number; at: Vec3 }[] {
  const { top } = model;
  return model.standsOn.flatMap((shape) => {
    const body = top.shapeBody[shape]!;
    const back = new Float64Array(12);
    invert(here.bodyT, 12 * body, back, 0);
    return lowestPoints(model, s, here, shape).map((p) => ({ body, at: mm(movePoint(back, 0, p)) }));
  });
}

/** Ends and corners that lie so much higher than the lowest still touch the ground, m: feet settle. */
const LEVEL = 2e-3;

/** The points of a shape that touch level ground in the posture, m: ends of a tube, the rim of a wheel, corners of a box. */
function lowestPoints(model: Model, s: State, here: State, shape: number): Vec3[] {
  const { top } = model;
  const body = top.shapeBody[shape]!;
  const pose = (p: Vec3): Vec3 => movePoint(here.bodyT, 12 * body, p);
  const turn = (v: Vec3): Vec3 => turnVector(here.bodyT, 12 * body, v);
  const touching = (points: readonly Vec3[]): Vec3[] => {
    const low = Math.min(...points.map((p) => p[2]));
    return points.filter((p) => p[2] < low + LEVEL);
  };
  if (shape < top.nCapsule) {
    const o = 7 * shape;
    const down: Vec3 = [0, 0, -s.capsule[o + 6]!];
    return touching([add(pose(at3(s.capsule, o)), down), add(pose(at3(s.capsule, o + 3)), down)]);
  }
  if (shape < top.nCapsule + top.nDisc) {
    const o = 8 * (shape - top.nCapsule);
    const n = turn(at3(s.disc, o + 3));
    const out: Vec3 = [n[2] * n[0], n[2] * n[1], n[2] * n[2] - 1];
    const slope = norm(out);
    const rim = slope > 1e-9 ? scale(out, s.disc[o + 6]! / slope) : ([0, 0, 0] as Vec3);
    const side = scale(n, -Math.sign(n[2]) * s.disc[o + 7]!);
    return [add(pose(at3(s.disc, o)), add(rim, side))];
  }
  const o = 15 * (shape - top.nCapsule - top.nDisc);
  const corners: Vec3[] = [];
  for (const a of [-1, 1])
    for (const b of [-1, 1])
      for (const c of [-1, 1]) {
        const along = [a, b, c].map((sign, k) => scale(at3(s.box, o + 3 + 3 * k), sign * s.box[o + 12 + k]!));
        corners.push(pose(along.reduce<Vec3>((p, d) => add(p, d), at3(s.box, o))));
      }
  return touching(corners);
}
