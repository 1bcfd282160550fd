/** Quantities of the folded package and the spaces of the brief. */
import { type CableResult, type FoldBox, HOLD_ASSUMPTIONS } from '#kernel';
import type { Absent, Family, Input } from '../family.ts';
import { absent, single } from '../family.ts';
import type { Results } from '../results.ts';

const BOX = [
  'All shapes in the folded posture; one axis along the rear axle, the other two turned to the least area.',
  'Length is the longer side across the axle, width lies along the axle, height is the shorter side.',
];
const SIZES =
  'tubes, wheels and hardware as drawn; levers, cables and mudguards only as far as the file has them: expect 10–20 mm more';
const BUILT = 0.004;
const DEG = 180 / Math.PI;

const half = (r: Results, pick: (b: FoldBox) => number): number =>
  Math.abs(pick(r.box!.largest) - pick(r.box!.smallest)) / 4;
const interval = (r: Results, k: 0 | 1 | 2): string | undefined => {
  const { largest, smallest } = r.box!;
  const side = (b: FoldBox): number =>
    [Math.max(b.size[1]!, b.size[2]!), b.size[0]!, Math.min(b.size[1]!, b.size[2]!)][k]!;
  const [low, high] = [side(smallest) * 1000, side(largest) * 1000];
  return high - low > 0.5
    ? `${low.toFixed(0)}–${high.toFixed(0)} mm with estimated hardware at its smallest and largest`
    : undefined;
};
const side = (k: 0 | 1 | 2, id: string, title: string, symbol: string): Family => ({
  id,
  title,
  symbol,
  unit: 'mm',
  meaning: `${title} of the package`,
  tier: 'drag',
  needs: ['fold', 'box'],
  slots: single,
  read: (r) => r.box!.size[k],
  steps: BOX,
  source: 'H. Freeman, R. Shapira, Comm. ACM 18 (1975), for the least rectangle; round shapes searched',
  standing: 'published',
  valid: SIZES,
  spread: () => BUILT,
  note: (r) => interval(r, k),
});
const stow = (r: Results, name: string): number | Absent => {
  const fit = r.stow!.get(name);
  if (!fit) return absent(`${name} is not a space to stow in`);
  if (fit.margin === undefined)
    return absent(`no allowed attitude: ${fit.refused.map((x) => `${x.attitude}: ${x.reason}`).join('; ')}`);
  return fit.margin;
};

const sides = (r: Results): readonly Input[] =>
  (['L', 'W', 'H'] as const).map((symbol, k) => ({
    symbol,
    meaning: ['length', 'width', 'height'][k]!,
    value: r.box!.size[k]! * 1000,
    unit: 'mm',
  }));

export const PACKAGE_FAMILIES: readonly Family[] = [
  side(0, 'fold.box.length', 'length', 'L'),
  side(1, 'fold.box.width', 'width', 'W'),
  side(2, 'fold.box.height', 'height', 'H'),
  {
    id: 'fold.box.volume',
    title: 'volume of the package',
    symbol: 'V',
    unit: 'm3',
    meaning: 'length × width × height',
    tier: 'drag',
    needs: ['fold', 'box'],
    slots: single,
    read: (r) => r.box!.box.volume,
    formula: 'L*W*H',
    inputs: sides,
    source: 'definition',
    standing: 'definition',
    valid: SIZES,
    spread: (r) => 0.02 * r.box!.box.volume + half(r, (b) => b.volume),
  },
  {
    id: 'fold.box.sum',
    title: 'length + width + height',
    symbol: 'S',
    unit: 'mm',
    meaning: 'the sum that carriers limit',
    tier: 'drag',
    needs: ['fold', 'box'],
    slots: single,
    read: (r) => r.box!.size[0] + r.box!.size[1] + r.box!.size[2],
    formula: 'L + W + H',
    inputs: sides,
    source: 'definition',
    standing: 'definition',
    valid: SIZES,
    spread: () => 0.008,
  },
  {
    id: 'space.{space}.margin',
    title: 'room to spare',
    symbol: 'm_s',
    unit: 'mm',
    meaning: 'least room in any direction beyond the clearance that the brief asks for; negative: it does not go in',
    tier: 'settle',
    needs: ['fold', 'box', 'stow'],
    slots: (names) => names.spaces.filter((s) => s.kind !== 'stand').map((s) => s.name),
    read: (r, slot) => stow(r, slot),
    steps: [
      'The package in every allowed attitude, estimated hardware at its largest.',
      'Best direction of push by a proven search over its outline; a roll about the push axis, or a turn on the way in, where the place asks for it.',
    ],
    source: 'exact supports of the shapes; theory',
    standing: 'definition',
    valid: SIZES,
    spread: () => BUILT,
    note: (r, slot) => {
      const f = r.stow!.get(slot);
      if (f?.margin === undefined) return undefined;
      const mm = (x: number) => (x * 1000).toFixed(0);
      return `${f.attitude}; ${mm(f.extents.along)} deep, ${mm(f.extents.across)} across, ${mm(f.extents.up)} high; tightest ${f.binding}`;
    },
  },
  {
    id: 'space.{space}.tip_margin',
    title: 'margin against falling over',
    symbol: 'm_t',
    unit: 'deg',
    meaning: 'tip angle less the slope and the jerk of the place, in the worst direction',
    tier: 'settle',
    needs: ['fold', 'box', 'handling'],
    slots: (names) => names.spaces.filter((s) => s.kind === 'stand').map((s) => s.name),
    read: (r, slot) => {
      const found = r.handling!.stands.get(slot);
      if (!found) return absent(`${slot} is not a place to stand in`);
      return found.margin ?? absent('it does not come to rest on what it is meant to stand on');
    },
    formula: 'tip - (slope + atan(jerk))',
    inputs: (r, slot) => {
      const s = r.setting.spaces.find((x) => x.name === slot)!;
      return [
        {
          symbol: 'tip',
          meaning: 'least tip angle of the standing package',
          value: r.handling!.standing.tip * DEG,
          unit: 'deg',
        },
        { symbol: 'slope', meaning: 'slope of the floor', value: s.slope * DEG, unit: 'deg' },
        { symbol: 'jerk', meaning: 'sideways acceleration over gravity', value: s.jerk, unit: '' },
      ];
    },
    source: 'statics; centre of mass over the support polygon',
    standing: 'definition',
    valid: 'rigid, quasi-static, no sliding',
    spread: () => 1.5 / DEG,
    caution: 'A package that falls in a crowd hurts; try it on the real floor.',
    note: (r, slot) => {
      const room = r.handling!.stands.get(slot)?.footprint;
      if (room === undefined) return undefined;
      return `footprint ${room < 0 ? 'too small' : 'room'} by ${Math.abs(room * 1000).toFixed(0)} mm`;
    },
  },
  {
    id: 'fold.tip_angle',
    title: 'tip angle of the standing package',
    symbol: 't',
    unit: 'deg',
    meaning: 'how far it may be tilted in the worst direction before it falls',
    tier: 'settle',
    needs: ['fold', 'box', 'handling'],
    slots: single,
    read: (r) =>
      Number.isFinite(r.handling!.standing.tip)
        ? r.handling!.standing.tip
        : absent('the package finds no stable stand'),
    steps: [
      'Settled on the shapes that it is meant to stand on; support polygon; angle of the centre of mass over each edge.',
    ],
    source: 'statics',
    standing: 'definition',
    valid: 'rigid, quasi-static, no sliding',
    spread: () => 1.5 / DEG,
  },
  {
    id: 'fold.hold_margin',
    title: 'margin against opening by itself',
    symbol: 'k',
    unit: '',
    meaning:
      'what holds it shut over what opens it, at worst: in any attitude, carried on stairs, rolled over an edge; friction not counted',
    tier: 'settle',
    needs: ['fold', 'box', 'handling'],
    slots: single,
    read: (r) => {
      const least = r.handling!.hold.least;
      if (!least) return absent('nothing is free to open: every joint is locked when folded');
      return Number.isFinite(least.ratio) ? least.ratio : absent('gravity does not open it in any attitude');
    },
    steps: [
      'For every joint left free: opening moment of gravity in the worst attitude, by virtual work with all followers.',
      `Carried: sway ${(HOLD_ASSUMPTIONS.sway * DEG).toFixed(0)}°, ${HOLD_ASSUMPTIONS.carryFactor} times the weight on stairs; rolled over an edge of ${(HOLD_ASSUMPTIONS.edge * 1000).toFixed(0)} mm by an energy argument.`,
      'Against it: the opening force of each holder at its place.',
    ],
    source: 'statics; factors from memory',
    standing: 'memory',
    valid: 'static and quasi-static; holders act at their stated force',
    spread: (r) => 0.2 * (r.handling!.hold.least?.ratio ?? 0),
    caution: 'A bicycle that opens on a stair hurts; prove it on the built one.',
    note: (r) => {
      const l = r.handling!.hold.least;
      return l
        ? `${l.freedoms.join(' with ')}, ${l.situation}: opens with ${l.opening.toFixed(1)}, held with ${l.holding.toFixed(1)} N·m`
        : undefined;
    },
  },
  {
    id: 'fold.cable_reserve',
    title: 'spare length of the tightest cable',
    symbol: 'l_c',
    unit: 'mm',
    meaning: 'cable length left at the worst moment of the fold; negative: it is pulled',
    tier: 'settle',
    needs: ['fold', 'cables'],
    slots: single,
    read: (r) => (r.cables!.length ? Math.min(...r.cables!.map((c) => c.margin)) : absent('the file names no cable')),
    steps: [
      'Straight runs between the points where each cable is held, through every move; longest path bounded from above.',
    ],
    source: 'ISO 4210-2: folding must not damage cables',
    standing: 'published',
    valid: 'straight runs between holding points; friction and housing stiffness are not in it',
    spread: () => 0.005,
    note: (r) => {
      const worst = r.cables!.reduce<CableResult | undefined>((a, b) => (!a || b.margin < a.margin ? b : a), undefined);
      return worst ? `${worst.name}, move ${worst.at.move + 1}` : undefined;
    },
  },
  {
    id: 'fold.cable_bend',
    title: 'tightest cable bend against its least',
    symbol: 'r_c',
    unit: 'mm',
    meaning:
      'radius of the gentlest bend that its lengths allow, beyond the least that the file asks for; negative: it kinks for certain',
    tier: 'settle',
    needs: ['fold', 'cables'],
    slots: single,
    read: (r) => {
      const margins = r.cables!.map((c) => c.gentlestMargin).filter((x) => Number.isFinite(x));
      return margins.length ? Math.min(...margins) : absent('no cable has a least bend radius, or none bends');
    },
    steps: [
      'At each holding point, through every move: the two runs and the slack laid in an even arc of the angle between them.',
    ],
    source: 'common practice, no source',
    standing: 'practice',
    valid: 'an upper bound: how the housing is held can make it tighter; twist is not in it',
    spread: () => 0.01,
  },
  {
    id: 'fold.carry_offset',
    title: 'centre of mass beside the handle',
    symbol: 'e',
    unit: 'mm',
    meaning: 'how far the centre of mass lies from the plumb line of the handle: the package swings by that much',
    tier: 'settle',
    needs: ['fold', 'box', 'handling'],
    slots: single,
    read: (r) => r.handling!.carrying?.offset ?? absent('the file names no handle'),
    steps: ['Folded centre of mass against the vertical through the handle, package upright as it stands.'],
    source: 'definition',
    standing: 'definition',
    valid: 'rigid package',
    spread: () => 0.01,
  },
  {
    id: 'fold.carry_half_width',
    title: 'what stands towards the leg',
    symbol: 'b',
    unit: 'mm',
    meaning: 'how far the package reaches from the handle line towards the leg, hanging freely, slim side to the leg',
    tier: 'settle',
    needs: ['fold', 'box', 'handling'],
    slots: single,
    read: (r) => r.handling!.carrying?.halfWidth ?? absent('the file names no handle'),
    steps: ['Hangs with the centre of mass under the handle; least reach over all sides.'],
    source: 'definition',
    standing: 'definition',
    valid: 'rigid package',
    spread: () => 0.01,
  },
  {
    id: 'fold.rolls',
    title: 'ground clearance when rolled',
    symbol: 'h_r',
    unit: 'mm',
    meaning: 'least height above the floor of anything but the rolling wheels; absent when it does not roll',
    tier: 'settle',
    needs: ['fold', 'box', 'handling'],
    slots: single,
    read: (r) => {
      const rolling = r.handling!.rolling;
      if (!rolling) return absent('fewer than two wheels are named to roll on');
      return rolling.rolls ? rolling.clearance : absent(`it does not roll: ${rolling.reason}`);
    },
    steps: [
      'Floor tangent to both rolling wheels; axles within 12° of parallel; lowest point of everything else.',
      'Wheels side by side: tipped about the axles as little as lifts the rest 15 mm, at most 45°.',
    ],
    note: (r) => {
      const rolling = r.handling!.rolling;
      return rolling?.rolls
        ? `wheels ${rolling.arrangement}, tipped by ${Math.abs(rolling.tipped * DEG).toFixed(0)}°, axles ${(rolling.misalignment * DEG).toFixed(1)}° apart`
        : undefined;
    },
    source: 'common practice, no source',
    standing: 'practice',
    valid: 'rigid package, flat floor',
    spread: () => BUILT,
  },
];
