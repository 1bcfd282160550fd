/**
 * The project that `foldwright new` begins with: a brief and one complete candidate, commented for somebody who has not
 * read the manual. All dimensions are invented.
 *
 * The candidate is a side-hinged beam: hinge pin beside the beam, saddle lowered into the seat tube, bar folded down on
 * the outside. It is meant to be plausible and plain, not good.
 */
import { scalarText } from './save.ts';

const project = (name: string): string => `format: 1
project: ${scalarText(name)}
`;

const brief = (name: string): string => `# What the product must do. The whole grammar is in docs/project-files.md.
format: 1
brief: ${scalarText(name)}
note: A bicycle that goes into the boot of a small car and up the stairs of an office.

riders:
  shortest: 1.55 m
  tallest: 1.90 m
  heaviest: 100 kg
  usual: {stature: 1.72 m, mass: 75 kg, sex: mixed}
  women: 50 %          # of the public that is drawn for fit.share, hands and carrying
trip:
  stairs: 40           # steps to climb with the folded bicycle in one hand
  climb: 8 %
  descent: 8 %
  speed: 18 km/h
  distance: 3 km
  rest: 20             # steps from one rest to the next
  lifts: {boot_sill: 700 mm}

# Places that the folded bicycle must fit.
spaces:
  boot:
    kind: box
    size: [1000 mm, 700 mm, 560 mm]
    margin: 10 mm
    lies: any
    because: the boot of a small car with the rear seat up

# Demands must hold. Each is a limit on one computed quantity.
demands:
  - {quantity: mass.total, at_most: 15 kg, because: it is carried up the stairs}
  - {quantity: space.boot.margin, at_least: 0 mm, because: it goes into the boot or stays at home}
  - {quantity: fold.clearance, at_least: 2 mm, because: paint and cables survive years of folding}
  - {quantity: fold.crank_clearance, at_least: 5 mm, because: nothing may touch a turning crank}
  - {quantity: fold.free_when_locked, at_most: 0, because: nothing may move while riding that is not meant to}
  - {quantity: steer.trail, at_least: 30 mm, because: it should run straight by itself}
  - {quantity: frame.service_use, at_most: 1, because: no stress above the yield strength on the road}
  - {quantity: frame.test_use, at_most: 1, because: the standards' tests must leave no set}
  - {quantity: frame.least_opening, at_least: 1.2, because: no hinge may open while somebody rides}

# Wishes are weighed against each other: value 1 at best, 0 at worst.
wishes:
  - {quantity: mass.total, best: 11 kg, worst: 15 kg, weight: 3}
  - {quantity: fold.box.volume, best: 0.12 m3, worst: 0.40 m3, weight: 2}
  - {quantity: fold.hand_actions, best: 4, worst: 14, weight: 1}

market: {volume: 1000, price: 1200 EUR, region: EU}
stakes: {prototype: 8000 EUR, days: 40}
weights_sweep: 30 %    # how far the weights are varied before the order counts as certain
`;

const CANDIDATE = `# One design. Points are in the ride posture: x forward, y left, z up, origin on the ground under the rear hub.
format: 1
candidate: Side beam
note: A beam with a hinge beside it; the front half folds to the left, away from the chain.

# Numbers with names. Other fields may use them, also in formulas: beam_height - 300 mm.
dimensions:
  wheelbase: 1020 mm
  hub_height: 239 mm       # loaded radius of a 40-406 wheel
  beam_height: 500 mm
  hinge_side: 70 mm        # the hinge pin stands this far to the left of the beam
  head_lean: 18 deg        # steering axis from the vertical

stations:
  rear_hub: [0, 0, hub_height]
  front_hub: [wheelbase, 0, hub_height]
  crank: [430 mm, 0, 295 mm]
  saddle: [190 mm, 0, 900 mm]
  grip_left: [752 mm, 230 mm, 990 mm]

  # Seat tube: its foot stands behind the bottom bracket, so that the post can be lowered past it.
  seat_foot: [365 mm, 0, 330 mm]
  seat_top: {between: [seat_foot, saddle], at: 0.55}
  seat_mid: {between: [seat_foot, saddle], at: 0.30}
  post_end: {between: [seat_foot, saddle], at: 0.28}

  # What is welded to the seat tube begins at its face: the post slides inside.
  beam_end: {from: seat_mid, by: [49 mm, 0, 0]}
  bridge_end: {from: crank, by: [-26 mm, 0, 25 mm]}

  # The hinge pin, and the place on the beam beside it.
  hinge: [600 mm, hinge_side, beam_height]
  hinge_mid: [hinge.x, 0, hinge.z]

  # Steering axis. Trail is not an input: it follows from these points, the hub and the wheel.
  head_bottom: [wheelbase - 121 mm, 0, 530 mm]
  head_top: {from: head_bottom, by: [-130 mm * tan(head_lean), 0, 130 mm]}
  crown: {from: head_bottom, by: [20 mm * tan(head_lean), 0, -20 mm]}
  bar_foot: {from: head_top, by: [-75 mm * tan(head_lean), 0, 75 mm]}
  bar_pin: {from: bar_foot, by: [24 mm, -24 mm, 0]}    # in front and to the right: the bar hangs down beside the head tube
  bar_clamp: {from: head_top, by: [-330 mm * tan(head_lean), 0, 330 mm]}

  # Tops of the rims, where the brakes sit.
  brake_front: {from: front_hub, by: [-63 mm, 0, 195 mm]}
  brake_rear: {from: rear_hub, by: [120 mm, 0, 165 mm]}

bodies:
  rear:                    # the first body is the one that stays put
    heat_treated: yes      # after welding: the metal beside the welds is as strong as the tube again
    tubes:
      - {name: beam, from: beam_end, to: hinge_mid, section: round 50 x 2 mm, material: 6061-T6}
      - {name: seat_tube, from: seat_foot, to: seat_top, section: round 40 x 3 mm, material: 6061-T6}
      - {name: bridge, from: bridge_end, to: crank, section: round 40 x 2.5 mm, material: 6061-T6}
      - {name: strut, from: crank, to: hinge_mid, section: round 28 x 1.5 mm, material: 6061-T6}
      - name: chain_stay_left
        from: crank
        to: rear_hub
        via: [{from: crank, by: [-115 mm, 24 mm, -12 mm]}, {from: rear_hub, by: [60 mm, 62 mm, 0]}]
        bend_radius: 40 mm
        section: round 22 x 2 mm
        material: 6061-T6
      - name: chain_stay_right
        from: crank
        to: rear_hub
        via: [{from: crank, by: [-115 mm, -24 mm, -12 mm]}, {from: rear_hub, by: [60 mm, -62 mm, 0]}]
        bend_radius: 40 mm
        section: round 22 x 2 mm
        material: 6061-T6
      - name: seat_stay_left
        from: seat_top
        to: rear_hub
        via: [{from: seat_top, by: [-40 mm, 30 mm, -20 mm]}, {from: rear_hub, by: [20 mm, 62 mm, 40 mm]}]
        bend_radius: 30 mm
        section: round 18 x 2 mm
        material: 6061-T6
      - name: seat_stay_right
        from: seat_top
        to: rear_hub
        via: [{from: seat_top, by: [-40 mm, -30 mm, -20 mm]}, {from: rear_hub, by: [20 mm, -62 mm, 40 mm]}]
        bend_radius: 30 mm
        section: round 18 x 2 mm
        material: 6061-T6
  seat_post:
    tubes:
      - {name: post, from: post_end, to: saddle, section: round 33.9 x 2.2 mm, material: 7075-T6}
  front:
    heat_treated: yes
    tubes:
      - {name: beam, from: hinge_mid, to: head_top, section: round 50 x 2 mm, material: 6061-T6}
      - {name: head, from: head_bottom, to: head_top, section: round 44 x 3 mm, material: 6061-T6}
  fork:
    tubes:
      - {name: steerer, from: crown, to: bar_foot, section: round 28.6 x 2.4 mm, material: 25CrMo4}
      - name: blade_left
        from: crown
        to: front_hub
        via: [{from: crown, by: [5 mm, 50 mm, -15 mm]}, {from: front_hub, by: [0, 55 mm, 30 mm]}]
        section: round 24 x 1.5 mm
        material: 25CrMo4
      - name: blade_right
        from: crown
        to: front_hub
        via: [{from: crown, by: [5 mm, -50 mm, -15 mm]}, {from: front_hub, by: [0, -55 mm, 30 mm]}]
        section: round 24 x 1.5 mm
        material: 25CrMo4
  bar:
    heat_treated: yes
    tubes:
      - {name: mast, from: bar_foot, to: bar_clamp, section: round 38 x 3 mm, material: 6061-T6}

# A joint has a kind (how it moves when released) and something that holds it while riding.
# A positive value moves the second body relative to the first.
joints:
  main:
    kind: pivot
    held: latch
    between: [rear, front]
    at: hinge
    axis: z
    turn: [0, 180 deg]
    cut_out: 75 mm         # the tubes end here in the clearance check; the hardware stands in for them
    hardware:
      shape: box 60 x 50 x 70 mm
      offset: [0, -hinge_side / 2, 0]
      principle: tapered_dog   # from the joint shelf: stiffness, preload and wear follow from it (docs/methods/frame-joints.md)
      face: [50 mm, 80 mm]     # section in which the beam parts: across, along the pin
      mass: 0.6 kg
      hand_force: 70 N
      actions: 2               # a second catch counts
  steering:
    kind: steerer
    held: none
    between: [front, fork]
    at: head_bottom
    axis: {to: head_top}
    turn: [-170 deg, 170 deg]
  bar_hinge:
    kind: pivot
    held: latch
    between: [fork, bar]
    at: bar_pin
    axis: [1, 1, 0]        # across the corner: the bar comes to lie along the wheel
    turn: [0, 175 deg]
    cut_out: 55 mm
    hardware: {principle: hook_lever, shape: box 44 x 40 x 44 mm, face: [54 mm, 60 mm], lever: 120 mm, mass: 0.3 kg, hand_force: 80 N, actions: 1}
  post_clamp:
    kind: post
    held: clamp
    between: [rear, seat_post]
    at: seat_top
    axis: {to: saddle}
    travel: [-180 mm, 110 mm]     # down for the fold, up for tall riders
    hardware: {principle: cam_clamp, shape: box 50 x 50 x 40 mm, mass: 0.15 kg}

# Bought parts with built-in sizes and masses (defaults, from memory). Any value can be overridden here.
parts:
  - {part: wheel 40-406 front, body: fork, at: front_hub}
  - {part: wheel 40-406 rear, body: rear, at: rear_hub}
  - {part: crankset 165, body: rear, at: crank, ring: 46, sprocket: 16}
  - {part: pedal folding, at: crank, side: left}
  - {part: pedal folding, at: crank, side: right}
  - {part: bottom bracket, name: bottom_bracket, body: rear, at: crank}
  - {part: headset, name: headset, body: front, at: head_bottom}
  - {part: hub gear 3, body: rear, at: rear_hub}
  - {part: brake rim, name: brake_front, body: fork, at: brake_front}
  - {part: brake rim, name: brake_rear, body: rear, at: brake_rear}
  - {part: brake lever, name: lever_left, body: bar, at: bar_clamp, side: left}
  - {part: brake lever, name: lever_right, body: bar, at: bar_clamp, side: right}
  - {part: saddle city, body: seat_post, at: saddle}
  - {part: handlebar flat 540, body: bar, at: bar_clamp}
  - {part: chain, body: rear, at: crank}
  - {part: cables, body: front, at: head_top}

drive: {kind: chain, from: crank, to: rear_hub, side: right}

# The procedure, in order.
fold:
  - {move: turn, joint: cranks, to: 180 deg}      # left crank forward, out of the front wheel's way
  - {move: release, joint: main}
  - {move: turn, joint: main, to: 180 deg}
  - {move: release, joint: post_clamp}
  - {move: lower, joint: post_clamp, to: -168 mm}
  - {move: lock, joint: post_clamp}
  - {move: release, joint: bar_hinge}
  - {move: turn, joint: bar_hinge, to: 175 deg}

folded:
  holds:                   # what keeps the package together
    - {name: magnet, kind: magnet, between: [rear, fork], at: rear_hub, force: 80 N}
  rolls_on: [rear_wheel, front_wheel]
  stands_on: [rear_wheel, front_wheel]
  handle: {body: rear, at: seat_top}

exclude:                   # pairs that may touch, with the reason
  - {between: [fork.steerer, front.head], because: the steerer runs in the head tube}
  - {between: [bottom_bracket, cranks], because: the spindle turns in it}

fasteners: 14
`;

/** File name → text of a new project. `name` is what people read; it may hold any characters. */
export function starterFiles(name: string): ReadonlyMap<string, string> {
  const shown =
    name
      .replace(/\p{C}+/gu, ' ')
      .trim()
      .slice(0, 80) || 'New project';
  return new Map([
    ['foldwright.yaml', project(shown)],
    ['brief.yaml', brief(shown)],
    ['candidates/side_beam.yaml', CANDIDATE],
  ]);
}
