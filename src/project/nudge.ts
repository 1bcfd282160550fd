/**
 * Dragging a dimension that is an expression: its trailing literal takes up the change, or the drag is refused.
 *
 * `beam_height - 300 mm` dragged from 220 to 230 mm becomes `beam_height - 290 mm`. Only a literal at the end, joined by
 * + or - on the top level (or the whole text, when it is one literal), can take a change without bending what the author
 * meant; `2 * wheelbase / 3` cannot, and the answer names the dimensions that it follows.
 */

import { type ExpressionNode, parseExpression, references, type Term } from './expression-parse.ts';
import { DIMENSION, formatQuantity, inSI, parseUnit, sameDimension } from './units.ts';

export type Nudge =
  | { readonly text: string; readonly refused?: never }
  | { readonly refused: string; readonly text?: never };

interface Trailing {
  readonly from: number;
  readonly to: number;
  /** +1 or -1: how the expression's value follows the literal. */
  readonly sign: number;
}

/** The literal at the end of a sum, and the sign with which it enters. */
function trailing(root: Term, sign = 1): Trailing | undefined {
  if (root.kind === 'number') return { from: root.from, to: root.to, sign };
  if (root.kind === 'minus')
    return root.of.kind === 'number' ? { from: root.of.from, to: root.of.to, sign: -sign } : undefined;
  if (root.kind !== 'binary' || (root.operator !== '+' && root.operator !== '-')) return undefined;
  return root.right.kind === 'number' ? trailing(root.right, root.operator === '-' ? -sign : sign) : undefined;
}

const LITERAL = /^([\d.]+(?:[eE][-+]?\d+)?)\s*(.*)$/;

/** The power of ten of a unit to which a dragged literal is rounded: about a tenth of a millimetre, whatever the unit. */
function stepOf(factor: number): number {
  const exponent = Math.floor(Math.log10(1e-4 / factor) + 1e-9);
  return Number(`1e${exponent}`);
}

/**
 * The expression's text after its value (SI) went from `from` to `to`. The literal keeps its unit and is rounded to a
 * power of ten of it near 1e-4 in SI (0.1 mm, 0.001 in, 0.001 deg), or to `step` of its unit. Its sign is written when
 * it turns over: `- 300 mm` becomes `+ 20 mm`.
 */
export function nudgeLiteral(expression: string | number, from: number, to: number, step?: number): Nudge {
  const text = String(expression);
  const { node } = parseExpression(text);
  if (!node) return { refused: 'the expression has a problem of its own' };
  const found = trailing(node.root);
  if (!found) return { refused: follows(node) };
  const literal = LITERAL.exec(text.slice(found.from, found.to));
  const unit = literal && parseUnit(literal[2] === '' ? '1' : literal[2]!);
  if (!literal || !unit || !Number.isFinite(to - from)) return { refused: follows(node) };
  // A bare 0 stands for any unit, and says nothing about which one to write.
  if (sameDimension(unit.dimension, DIMENSION.number) && Number(literal[1]) === 0)
    return { refused: 'a bare 0 has no unit to continue in: write 0 mm' };
  const signed = inSI(Number(literal[1]), unit) + found.sign * (to - from);
  const grain = step ?? stepOf(unit.factor);
  const inUnits = Math.round(signed / unit.factor / grain) * grain;
  const written = formatQuantity(Math.abs(inUnits) * unit.factor, literal[2] === '' ? '1' : literal[2]!, 9);
  const before = text.slice(0, found.from);
  const after = text.slice(found.to);
  if (inUnits >= 0) return { text: before + written + after };
  const flipped = flipSign(before);
  return flipped === undefined ? { refused: follows(node) } : { text: flipped + written + after };
}

/** The text before a literal, with the sign that stands at its end turned round. */
function flipSign(before: string): string | undefined {
  if (before.trim() === '') return `${before}-`;
  const sign = /([-+])(\s*)$/.exec(before);
  if (!sign) return undefined;
  const head = before.slice(0, sign.index);
  if (sign[1] === '+') return `${head}-${sign[2]}`;
  return head.trim() === '' ? head : `${head}+${sign[2]}`;
}

function follows(node: ExpressionNode): string {
  const names = references(node);
  return names.length > 0
    ? `this follows ${names.join(' and ')}: change that instead`
    : 'this is computed: edit its text instead';
}
