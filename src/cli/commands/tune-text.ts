/** A sizing as text for a terminal. */
import { type Binding, figureText, limitText, type Tuned } from '#study';
import { table, wrapped } from '../table.ts';

const WIDTH = 100;

/** Uses of strength lie close to 1: one decimal more than elsewhere. */
const figure = (value: number | null, unit: string): string =>
  value === null ? '—' : unit === '' ? value.toFixed(3) : figureText(value, unit);
const grams = (kg: number): string => {
  const g = Math.round(1000 * kg);
  return `${g > 0 ? '+' : g < 0 ? '−' : ''}${Math.abs(g)} g`;
};
const kg = (x: number): string => `${x.toFixed(3)} kg`;

export function tuneText(t: Tuned): string {
  return [
    `${t.candidate.name} (${t.candidate.id}): ${headline(t)}\n`,
    demands(t),
    tubes(t),
    reasons(t),
    leftAlone(t),
    trouble(t),
    curve(t),
    `\n${wrapped(`${t.notes.join('; ')}. ${t.count} frames computed.`, WIDTH, 2)}`,
  ].join('');
}

function headline(t: Tuned): string {
  const { now, tuned } = t.mass;
  if (t.tubes.length === 0) return 'no tube of it can be sized';
  if (!t.holds && t.broken.length === 0) return 'no gauges hold all that its frame must; the nearest are shown';
  if (t.edits.length === 0) return `the gauges of its file are the lightest that hold, ${kg(now)}`;
  return `${kg(tuned)} instead of ${kg(now)}, ${grams(tuned - now)}`;
}

function demands(t: Tuned): string {
  const said = t.usual
    ? 'The brief demands nothing of the frame. Held instead:'
    : 'Held, the demands of the brief on the frame:';
  const rows = t.held.map((h) => [
    h.holds ? 'holds' : 'MISSES',
    h.quantity,
    figure(h.value, h.unit),
    limitText(h.sense, h.limit, h.unit),
    `now ${figure(h.now, h.unit)}`,
  ]);
  const beside = t.beside.map(
    (b) =>
      `    not demanded: ${b.quantity} ${figure(b.tuned, '')}, now ${figure(b.now, '')}; sizing may lower it, demand what it must keep\n`,
  );
  return `\n  ${said}\n${table(rows, ['left', 'left', 'right', 'left', 'left'], 4)}${beside.join('')}`;
}

function tubes(t: Tuned): string {
  if (t.tubes.length === 0) return '';
  const rows = t.tubes.map((g) => [
    g.words,
    g.section,
    g.changed ? g.gauge.section : 'stays',
    g.changed ? grams(g.added) : '',
    g.gauge.from,
  ]);
  return `\n  Tubes\n${table([['', 'now', 'tuned', 'mass', 'from'], ...rows], ['left', 'left', 'left', 'right', 'left'], 4)}`;
}

function reasons(t: Tuned): string {
  if (t.tubes.length === 0 || !t.holds) return '';
  const lines = t.tubes.map((g) => wrapped(`${g.words}: ${why(g.binding)}`, WIDTH, 4));
  return `\n  Why not lighter\n${lines.join('')}`;
}

function why(b: Binding): string {
  if ('none' in b) return b.none;
  const what =
    b.value === null ? (b.absent ?? 'no figure') : `${figure(b.value, b.unit)}, ${limitText(b.sense, b.limit, b.unit)}`;
  return `with ${b.lighter} ${b.quantity} is ${what}${b.where ? `; ${b.where}` : ''}`;
}

function leftAlone(t: Tuned): string {
  if (t.left.length === 0) return '';
  const rows = t.left.map((l) => [l.words, l.section, l.because]);
  return `\n  Left alone\n${table(rows, ['left', 'left', 'left'], 4)}`;
}

function trouble(t: Tuned): string {
  const lines = [
    ...t.obstacles.map((o) => {
      const place = o.tube
        ? `; in the way: ${o.tube}${o.section ? `, ${o.section}` : ''}${o.because ? `, ${o.because}` : ''}`
        : '';
      return `${o.quantity} is ${figure(o.value, o.unit)}, ${limitText(o.sense, o.limit, o.unit)}${o.where ? `: ${o.where}` : ''}${place}`;
    }),
    ...t.held.filter((h) => h.value === null).map((h) => `${h.quantity} has no figure: ${h.absent}`),
    ...t.broken.map(
      (r) => `${r.quantity} held and would miss: ${figure(r.value, r.unit)}, ${limitText(r.sense, r.limit, r.unit)}`,
    ),
  ];
  const weak = table(
    t.weak.map((x) => [x.words, x.section, `${x.times.toFixed(2)} times what it bears`, x.because]),
    ['left', 'left', 'right', 'left'],
    4,
  );
  return (
    (lines.length === 0 ? '' : `\n  In the way\n${lines.map((l) => wrapped(l, WIDTH, 4)).join('')}`) +
    (t.weak.length === 0 ? '' : `\n  Too weak even so\n${weak}`)
  );
}

function curve(t: Tuned): string {
  if (!t.curve) return '';
  const { quantity, points, absent } = t.curve;
  const { unit, title } = quantity.family;
  if (points.length === 0) return `\n  No curve of mass against ${title} (${quantity.id}): ${absent}\n`;
  const rows = points.map((p) => [
    figure(p.level, unit),
    figure(p.value, unit),
    kg(p.mass),
    p === points[0] ? '' : grams(p.mass - points[0]!.mass),
  ]);
  const now = `as drawn ${figure(t.stiffnessNow, unit)}, ${kg(t.mass.now)}`;
  return `\n  Least mass against ${title} (${quantity.id}); ${now}\n${table([['at least', 'reached', 'bicycle', ''], ...rows], ['right', 'right', 'right', 'right'], 4)}`;
}
