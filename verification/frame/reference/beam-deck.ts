/**
 * The same frames in CalculiX's own beam element B32R with SECTION=PIPE, for comparison only: see
 * docs/methods/frame-reference.md for why the bricks of `solid-deck.ts` are the reference and these are not.
 * The program expands each element into one 20-node brick with eight points around the pipe; where members meet at an
 * angle, or a moment acts, it makes the section rigid. Rotations and moments of reaction are not printed for such nodes.
 */
import { lengthOf, pipeOf, type ReferenceFrame } from './frames.ts';
import { caseCards, type Deck, real, shown } from './solid-deck.ts';

/** @throws where a member has a spring: the program has no end spring for these elements. */
export function beamDeck(title: string, frame: ReferenceFrame, perMember: number): Deck {
  const names = Object.keys(frame.nodes);
  const reference = Object.fromEntries(names.map((name, i) => [name, i + 1]));
  const nodes = names.map((name) => `${reference[name]},${frame.nodes[name]!.map(shown).join(',')}`);
  const cards: string[] = [];
  let next = names.length + 1;
  let element = 1;
  for (const [index, m] of frame.members.entries()) {
    if (m.spring_from) throw new Error(`${m.id} has a spring`);
    const [a, b] = [frame.nodes[m.from]!, frame.nodes[m.to]!];
    const chain = [reference[m.from]!];
    for (let i = 1; i < 2 * perMember; i++) {
      nodes.push(`${next},${a.map((x, d) => shown(x + ((b[d]! - x) * i) / (2 * perMember))).join(',')}`);
      chain.push(next++);
    }
    chain.push(reference[m.to]!);
    cards.push(`** ${m.id}`, `*ELEMENT,TYPE=B32R,ELSET=T${index + 1}`);
    for (let e = 0; e < perMember; e++) cards.push(`${element++},${chain.slice(2 * e, 2 * e + 3).join(',')}`);
    const { outer, wall, nu } = pipeOf(m);
    cards.push(`*MATERIAL,NAME=T${index + 1}`, '*ELASTIC', `${real(m.E_MPa)},${shown(nu)}`);
    cards.push(
      `*BEAM SECTION,ELSET=T${index + 1},MATERIAL=T${index + 1},SECTION=PIPE`,
      `${shown(outer)},${shown(wall)}`,
    );
    const upright = Math.abs(b[2] - a[2]) > 0.9 * lengthOf(frame, m);
    cards.push(upright ? '1.,0.,0.' : '0.,0.,1.');
  }
  const { boundary, loads } = caseCards(frame, (name, c) => [reference[name]!, c + 1]);
  const lines = ['*HEADING', title, '*NODE,NSET=NALL', ...nodes, ...cards];
  lines.push('*NSET,NSET=OUT', ...names.map((name) => `${reference[name]}`), '*BOUNDARY', ...boundary);
  lines.push('*STEP', '*STATIC', '*CLOAD', ...loads, '*NODE PRINT,NSET=OUT', 'U,RF', '*END STEP');
  if (frame.buckling === true) lines.push('*STEP', '*BUCKLE', '2,1e-8,20,10000', '*CLOAD', ...loads, '*END STEP');
  return { text: `${lines.join('\n')}\n`, reference, springs: {} };
}
