/**
 * Latch mechanisms: preload and hand force from one geometry.
 *
 * A mechanism draws a stack of stiffness k (latch, hook, faces in series) together. Its travel function r(φ) says how far
 * the stack has relaxed when the handle stands φ before its tightest place; the clamping force is F(φ) = k·(r₀ − r(φ)) and
 * virtual work gives the handle's moment M = F·dr/dφ + friction, where friction = Σ μ·(force in a contact)·(sliding way
 * per radian). Everything else follows: the hand feels the largest M on the way in, the reopening hand M at the stop.
 *   toggle   crank a on the handle, link b, hook on the stack's line: exact slider-crank, folded over (`draw`, tight at
 *            b − a) or stretched (`spread`, tight at a + b); friction in three pins.
 *   cam      round cam of radius R, off centre by e, on a flat face: r = e(1 − cos φ); friction on the face and in the pin.
 *   screw    T = F[p/2π + μ_t d₂/(2 cos 30°) + μ_h d_n/2], turned by a lever; draws p per turn.
 *   wedge    one face inclined by α: Q = F[tan(α + ρ) + tan ρ], ρ = arctan μ; out again Q = F[tan(ρ − α) + tan ρ].
 *   plunger  a sprung pin; straight it holds by its own shear and makes no preload, with a tapered nose it is a wedge
 *            under the spring.
 * Assumes a linear stack, a guided hook, hand force square to the lever, its own share in the pins' load left out (the
 * pins carry kilonewtons, the hand newtons).
 * Sources: virtual work, theory; screw friction ISO 16047 / VDI 2230 part 1 (long form); clamp gain (L/a)/(2 tan φ) of
 * equal links is the small-angle limit. At least 2–5° past centre and a second catch: common practice, no source.
 * Units: mm, N, N·mm, N/mm, rad. Not here: strength of the parts, dynamics of snapping, springs that hold the lever.
 */
import { threadArm } from '../check/index.ts';

export interface Toggle {
  readonly kind: 'toggle';
  /** `draw`: hooks are pulled together over the handle's pivot; `spread`: links are pressed straight. */
  readonly form: 'draw' | 'spread';
  /** Hand lever, crank on the handle, link, mm. */
  readonly lever: number;
  readonly crank: number;
  readonly link: number;
  /** Angle by which the closed handle lies past its dead centre, rad; negative: it never reaches it. */
  readonly past: number;
  readonly pinRadius: number;
  readonly friction: number;
  readonly stack: number;
}
export interface Cam {
  readonly kind: 'cam';
  readonly lever: number;
  /** Eccentricity and radius of the cam, mm. */
  readonly eccentricity: number;
  readonly radius: number;
  readonly past: number;
  readonly pinRadius: number;
  /** On the cam's face and in its pin. */
  readonly friction: number;
  readonly stack: number;
}
export interface Screw {
  readonly kind: 'screw';
  readonly lever: number;
  readonly pitch: number;
  /** Pitch diameter d₂ and mean diameter under the head or nut, mm. */
  readonly pitchDiameter: number;
  readonly headDiameter: number;
  readonly friction: number;
  readonly stack: number;
}
export interface Wedge {
  readonly kind: 'wedge';
  /** Hand force times this is the force that drives the dog: 1 for a thumb, lever over crank otherwise. */
  readonly ratio: number;
  /** Inclination of the one tapered face, rad. */
  readonly angle: number;
  readonly friction: number;
  readonly stack: number;
}
export interface Plunger {
  readonly kind: 'plunger';
  /** Spring force with the pin home, N; rate, N/mm; way to pull it clear, mm. */
  readonly spring: number;
  readonly rate: number;
  readonly stroke: number;
  /** Inclination of the nose, rad; 0 for a straight pin. */
  readonly nose: number;
  readonly friction: number;
  readonly stack: number;
}
export type LatchMechanism = Toggle | Cam | Screw | Wedge | Plunger;

export interface LatchFigures {
  /** Clamping force in the closed state, N. */
  readonly preload: number;
  /** Largest clamping force on the way in (at dead centre), N: what the parts must carry. */
  readonly peak: number;
  /** How far the stack is stretched in the closed state, mm. */
  readonly draw: number;
  /** Largest hand force to close, N. */
  readonly handForce: number;
  /** Hand force to open, N; 0: it opens by itself. */
  readonly reopenForce: number;
  /** Work of the hand to close, N·mm. */
  readonly work: number;
  /** Whether it stays shut without a second catch and without any friction. */
  readonly heldWithoutFriction: boolean;
  /** Whether friction alone keeps it from opening by itself. */
  readonly heldByFriction: boolean;
  /** Angle about dead centre within which friction holds the handle anywhere, rad: a handle left there looks shut. NaN: no dead centre. */
  readonly sticks: number;
  /** Handle's swing under force, rad (screw: turning angle); NaN where the hand pushes straight. */
  readonly swing: number;
}

const refusePositive = (what: string, value: number): void => {
  if (!(value > 0 && value < Number.POSITIVE_INFINITY)) throw new RangeError(`${what} must be positive, not ${value}`);
};

function check(m: LatchMechanism): void {
  refusePositive('stack stiffness', m.stack);
  if (!(m.friction >= 0 && m.friction < 1)) throw new RangeError(`friction must lie in 0…1, not ${m.friction}`);
  if (m.kind === 'toggle') {
    for (const key of ['lever', 'crank', 'link'] as const) refusePositive(key, m[key]);
    if (m.form === 'draw' && !(m.link > m.crank))
      throw new RangeError(
        `the link must be longer than the crank (${m.link} mm, ${m.crank} mm): else it cannot fold over`,
      );
  } else if (m.kind === 'cam') {
    for (const key of ['lever', 'eccentricity', 'radius'] as const) refusePositive(key, m[key]);
    if (!(m.radius > m.eccentricity)) throw new RangeError('the cam radius must exceed its eccentricity');
  } else if (m.kind === 'screw') {
    for (const key of ['lever', 'pitch', 'pitchDiameter', 'headDiameter'] as const) refusePositive(key, m[key]);
  } else if (m.kind === 'wedge') {
    refusePositive('ratio', m.ratio);
    if (!(m.angle > 0 && m.angle + Math.atan(m.friction) < Math.PI / 2))
      throw new RangeError(`the wedge jams: angle and friction angle together reach 90°`);
  } else {
    refusePositive('spring', m.spring);
    if (!(m.rate >= 0 && m.stroke >= 0 && m.nose >= 0))
      throw new RangeError('spring rate, stroke and nose must be 0 or more');
    if (m.nose + Math.atan(m.friction) >= Math.PI / 2)
      throw new RangeError('the nose jams: angle and friction angle together reach 90°');
  }
  if ((m.kind === 'toggle' || m.kind === 'cam') && !(Math.abs(m.past) < Math.PI / 4 && m.pinRadius >= 0))
    throw new RangeError('past centre must lie within ±45° and the pin radius be 0 or more');
}

/** How the handle of a toggle or cam turns its stack: travel, its slope, and friction moment per newton of clamping force. */
export interface Travel {
  /** mm by which the stack is slacker than at dead centre. */
  readonly travel: number;
  /** dr/dφ, mm/rad. */
  readonly slope: number;
  /** Σ μ (contact force / F)(sliding way per radian), mm. */
  readonly friction: number;
}

/** Travel of a toggle or cam with the handle `phi` (rad) before dead centre (negative: past it). */
export function handleTravel(m: Toggle | Cam, phi: number): Travel {
  const s = Math.sin(phi);
  const c = Math.cos(phi);
  if (m.kind === 'cam')
    return {
      travel: m.eccentricity * (1 - c),
      slope: m.eccentricity * s,
      friction: m.friction * (m.radius + m.eccentricity * c + m.pinRadius),
    };
  const { crank: a, link: b } = m;
  const root = Math.sqrt(b * b - a * a * s * s);
  const sign = m.form === 'draw' ? -1 : 1;
  // Angle ψ of the link to the stack's line: sin ψ = (a/b) sin φ; it turns by dψ = (a cos φ)/(b cos ψ) dφ.
  const turn = (a * c) / root;
  return {
    travel: a * (1 - c) + sign * (b - root),
    slope: a * s + (sign * a * a * s * c) / root,
    friction: ((m.friction * m.pinRadius * b) / root) * (1 + Math.abs(1 + sign * turn) + Math.abs(turn)),
  };
}

/** Handle angle of most travel: a toggle whose crank is longer than its link cannot turn beyond asin(b/a). */
const farthest = (m: Toggle | Cam): number =>
  m.kind === 'toggle' && m.crank > m.link ? Math.asin(m.link / m.crank) * (1 - 1e-9) : Math.PI;

/** Handle angle at which the stack, stretched by `draw` (mm) at dead centre, just comes loose. */
function contactAngle(m: Toggle | Cam, draw: number): number {
  const far = farthest(m);
  if (!(handleTravel(m, far).travel >= draw))
    throw new RangeError(
      `the mechanism has only ${handleTravel(m, far).travel.toFixed(2)} mm of travel, ${draw.toFixed(2)} mm are needed`,
    );
  if (m.kind === 'cam') return Math.acos(1 - draw / m.eccentricity);
  // Cosine rule in the triangle of crank, link and the distance x from handle pivot to hook.
  const { crank: a, link: b } = m;
  const x = m.form === 'draw' ? b - a + draw : a + b - draw;
  const c = (m.form === 'draw' ? b * b - a * a - x * x : a * a + x * x - b * b) / (2 * a * x);
  return Math.acos(Math.max(-1, Math.min(1, c)));
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;
const SCAN = 16;
const NARROW = 36;
/** Largest of a smooth function on an interval: a scan, then golden-section steps around its best sample. */
function largest(f: (x: number) => number, from: number, to: number): number {
  let best = 0;
  let value = Number.NEGATIVE_INFINITY;
  for (let i = 0; i <= SCAN; i++) {
    const y = f(from + ((to - from) * i) / SCAN);
    if (y > value) [best, value] = [i, y];
  }
  const step = (to - from) / SCAN;
  let a = from + step * Math.max(best - 1, 0);
  let b = from + step * Math.min(best + 1, SCAN);
  let x = b - GOLDEN * (b - a);
  let y = a + GOLDEN * (b - a);
  let [fx, fy] = [f(x), f(y)];
  for (let i = 0; i < NARROW; i++) {
    if (fx > fy) {
      [b, y, fy] = [y, x, fx];
      x = b - GOLDEN * (b - a);
      fx = f(x);
    } else {
      [a, x, fx] = [x, y, fy];
      y = a + GOLDEN * (b - a);
      fy = f(y);
    }
  }
  return Math.max(value, fx, fy);
}

interface Closing {
  /** Stretch of the stack at dead centre, mm; handle angle where it comes loose; angle of the stop. */
  readonly full: number;
  readonly start: number;
  readonly stop: number;
  readonly force: (phi: number) => number;
  readonly moment: (phi: number) => number;
}
function closing(m: Toggle | Cam, preload: number): Closing {
  const full = preload / m.stack + handleTravel(m, m.past).travel;
  const force = (phi: number): number => m.stack * Math.max(full - handleTravel(m, phi).travel, 0);
  const moment = (phi: number): number => {
    const t = handleTravel(m, phi);
    return m.stack * Math.max(full - t.travel, 0) * (t.slope + t.friction);
  };
  return { full, start: contactAngle(m, full), stop: -m.past, force, moment };
}
const hardest = (c: Closing): number => largest(c.moment, c.stop, c.start);

function turned(m: Toggle | Cam, preload: number): LatchFigures {
  const c = closing(m, preload);
  const { full, start, stop, force, moment } = c;
  // Before dead centre (past < 0) the closed place is also the tightest one that the handle reaches.
  const peak = m.past >= 0 ? m.stack * full : preload;
  // Out again: past centre the handle climbs back over it, before centre the stack itself drives it out.
  const out = (phi: number): number => {
    const t = handleTravel(m, phi);
    return force(phi) * (t.friction - t.slope);
  };
  const opening = m.past > 0 ? largest(out, stop, 0) : out(stop);
  const held = (phi: number): boolean => {
    const t = handleTravel(m, phi);
    return t.slope < t.friction;
  };
  let [low, high] = [0, Math.PI / 2];
  if (held(high)) low = high;
  else
    for (let i = 0; i < 50; i++) {
      const mid = (low + high) / 2;
      if (held(mid)) low = mid;
      else high = mid;
    }
  // Simpson on the smooth closing moment; what it gives back past centre is not counted against the hand.
  const n = 64;
  let work = 0;
  for (let i = 0; i <= n; i++)
    work += (i === 0 || i === n ? 1 : i % 2 ? 4 : 2) * Math.max(moment(stop + ((start - stop) * i) / n), 0);
  return {
    preload,
    peak,
    draw: preload / m.stack,
    handForce: hardest(c) / m.lever,
    reopenForce: Math.max(opening, 0) / m.lever,
    work: (work * (start - stop)) / (3 * n),
    heldWithoutFriction: m.past > 0,
    heldByFriction: out(stop) > 0,
    sticks: m.friction === 0 ? 0 : low,
    swing: start - stop,
  };
}

/** Torque per newton of clamping force, tightening (+1) or loosening (−1), mm. */
export function screwArm(m: Screw, sense: 1 | -1): number {
  const { pitch, thread, head } = threadArm(m.pitch, m.pitchDiameter, m.headDiameter, m.friction, m.friction);
  return sense * pitch + thread + head;
}

/** Driving force per newton of clamping force of a wedge with one inclined face, in and out. */
export const wedgeIn = (angle: number, friction: number): number => Math.tan(angle + Math.atan(friction)) + friction;
export const wedgeOut = (angle: number, friction: number): number => Math.tan(Math.atan(friction) - angle) + friction;

/**
 * Everything about a mechanism that is closed to a clamping force of `preload` (N).
 * A straight plunger makes none: any preload but 0 is refused; its hand force is that of its spring.
 * @throws RangeError for a geometry that is none, too little travel, or a preload that it cannot make.
 */
export function closeLatch(m: LatchMechanism, preload: number): LatchFigures {
  check(m);
  if (!(preload >= 0 && preload < Number.POSITIVE_INFINITY))
    throw new RangeError(`preload must be 0 or more, not ${preload}`);
  if (m.kind === 'toggle' || m.kind === 'cam') return turned(m, preload);
  const draw = preload / m.stack;
  if (m.kind === 'screw') {
    const swing = (2 * Math.PI * draw) / m.pitch;
    const out = preload * screwArm(m, -1);
    const hand = preload * screwArm(m, 1);
    return {
      preload,
      peak: preload,
      draw,
      handForce: hand / m.lever,
      reopenForce: Math.max(out, 0) / m.lever,
      work: (hand * swing) / 2,
      heldWithoutFriction: false,
      heldByFriction: out > 0,
      sticks: Number.NaN,
      swing,
    };
  }
  if (m.kind === 'wedge') {
    const inward = preload * wedgeIn(m.angle, m.friction);
    const out = preload * wedgeOut(m.angle, m.friction);
    return {
      preload,
      peak: preload,
      draw,
      handForce: inward / m.ratio,
      reopenForce: Math.max(out, 0) / m.ratio,
      work: (inward * draw) / (2 * Math.tan(m.angle)),
      heldWithoutFriction: false,
      heldByFriction: out > 0,
      sticks: Number.NaN,
      swing: Number.NaN,
    };
  }
  const made = plungerPreload(m);
  if (Math.abs(preload - made) > 1e-9 * Math.max(made, 1))
    throw new RangeError(
      m.nose === 0
        ? 'a straight spring plunger makes no preload'
        : `this spring makes ${made.toFixed(1)} N, not ${preload} N`,
    );
  return {
    preload: made,
    peak: made,
    draw: made / m.stack,
    // Pulled clear against the spring; a wedged nose is freed by the same pull less what the faces push it out.
    handForce: m.spring + m.rate * m.stroke,
    reopenForce:
      m.nose === 0
        ? m.spring + m.rate * m.stroke
        : Math.max(m.spring + m.rate * m.stroke, m.spring + made * wedgeOut(m.nose, m.friction)),
    work: m.spring * m.stroke + (m.rate * m.stroke * m.stroke) / 2,
    heldWithoutFriction: true,
    heldByFriction: true,
    sticks: Number.NaN,
    swing: Number.NaN,
  };
}

/** Sideways force of a spring plunger's tapered nose, N; 0 for a straight one. */
export const plungerPreload = (m: Plunger): number => (m.nose === 0 ? 0 : m.spring / wedgeIn(m.nose, m.friction));

/**
 * The preload (N) that a hand force makes: `closeLatch` the other way round, by bisection (hand force grows with preload).
 * For a plunger the hand makes no difference: its own preload.
 * @throws RangeError as `closeLatch`.
 */
export function preloadFromHand(m: LatchMechanism, handForce: number): number {
  check(m);
  if (!(handForce >= 0 && handForce < Number.POSITIVE_INFINITY))
    throw new RangeError(`hand force must be 0 or more, not ${handForce}`);
  if (m.kind === 'screw') return (handForce * m.lever) / screwArm(m, 1);
  if (m.kind === 'wedge') return (handForce * m.ratio) / wedgeIn(m.angle, m.friction);
  if (m.kind === 'plunger') return plungerPreload(m);
  // Past its centre the handle must go over the hump even where no preload remains behind it.
  const over = (preload: number): number => hardest(closing(m, preload)) / m.lever - handForce;
  if (over(0) >= 0) return 0;
  const reach = m.stack * (handleTravel(m, farthest(m)).travel - handleTravel(m, m.past).travel) * (1 - 1e-9);
  let [low, high] = [0, Math.min(1000, reach)];
  let [atLow, atHigh] = [over(low), over(high)];
  while (atHigh < 0) {
    if (high >= reach)
      throw new RangeError(
        `out of travel: a hand force of ${handForce} N is never needed with this geometry and stack`,
      );
    [low, atLow] = [high, atHigh];
    high = Math.min(high * 3, reach);
    atHigh = over(high);
  }
  // False position with the Illinois halving: monotone and nearly straight, so a few steps do.
  for (let i = 0; i < 60 && high - low > 1e-12 * high; i++) {
    const x = high - (atHigh * (high - low)) / (atHigh - atLow);
    const y = over(x);
    if (Math.abs(y) <= 1e-11 * handForce) return x;
    if (y < 0) {
      [low, atLow] = [x, y];
      atHigh /= 2;
    } else {
      [high, atHigh] = [x, y];
      atLow /= 2;
    }
  }
  return (low + high) / 2;
}

/** Stiffness of springs in series, N/mm: 1/k = Σ 1/k_i. */
export const inSeries = (...stiffness: readonly number[]): number => 1 / stiffness.reduce((sum, k) => sum + 1 / k, 0);

/**
 * Moment (N·mm) that opens a face held by `preload` (N) at the distance `arm` (mm) from the pin or the far edge of the
 * face, about which it opens: F·e. `pull` (N, tension positive) through the face at `pullArm` (mm) takes its share first.
 * `faceShare` is k_latch/k_face: while the face still bears, the latch gains force, and the face parts at F·e·(1 + share);
 * the default 0 is on the safe side.
 */
export const openingMoment = (preload: number, arm: number, pull = 0, pullArm = arm, faceShare = 0): number =>
  Math.max(preload * arm * (1 + faceShare) - pull * pullArm, 0);

export type PastCentre = 'enough' | 'little' | 'none';
const DEGREE = Math.PI / 180;
/** Past its dead centre by 5° or more, by 2–5°, or by less: common practice, no source. A second catch is wanted with all three. */
export const pastCentre = (past: number): PastCentre =>
  past >= 5 * DEGREE ? 'enough' : past >= 2 * DEGREE ? 'little' : 'none';
