/**
 * Pens and colours of the sheet: ink on paper, one accent. Colours are CSS variables so that light, dark and print share
 * one drawing. Line widths follow ISO 128-2: wide for visible edges, narrow for dimensions, centre lines long-dashed dotted,
 * positions of moving parts long-dashed double-dotted.
 */
export const INK = 'var(--ink)';
export const PAPER = 'var(--paper)';
export const FAINT = 'var(--faint)';
export const ACCENT = 'var(--accent)';
export const RULE = 'var(--rule)';
export const WASH = 'var(--wash)';
/** px; a CSS pixel is 1/96 inch: 0.42, 0.32 and 0.18 mm on paper. */
export const WIDE = 1.6;
export const MEDIUM = 1.2;
export const NARROW = 0.7;
export const CENTRE_LINE = '10 3 2 3';
export const GHOST_LINE = '10 3 2 3 2 3';
export const HIDDEN_LINE = '5 3';

type Name = 'ink' | 'paper' | 'faint' | 'accent' | 'rule' | 'wash';
type Palette = Readonly<Record<Name, string>>;
const LIGHT: Palette = {
  ink: '#1c2430',
  paper: '#fdfcf8',
  faint: '#6d7480',
  accent: '#a33c14',
  rule: '#d3cebf',
  wash: '#f0ece0',
};
const DARK: Palette = {
  ink: '#e6e3da',
  paper: '#171a1f',
  faint: '#9aa1ac',
  accent: '#f0895c',
  rule: '#3d434c',
  wash: '#22272e',
};
const PRINT: Palette = {
  ink: '#000',
  paper: '#fff',
  faint: '#555',
  accent: '#8a2f0c',
  rule: '#b5b5b5',
  wash: '#f2f2f2',
};

const root = (palette: Palette): string =>
  `:root{${Object.entries(palette)
    .map(([k, v]) => `--${k}:${v}`)
    .join(';')}}`;
/** The variables, once per page. */
export const INK_STYLE = `${root(LIGHT)}
@media screen and (prefers-color-scheme:dark){${root(DARK)}}
@media print{${root(PRINT)}}`;

/** A drawing with the light colours written in, for places without the page's style sheet. */
export const inLightColours = (markup: string): string =>
  markup.replace(/var\(--([a-z]+)\)/g, (whole, name: string) => LIGHT[name as Name] ?? whole);

export const SANS = "'Helvetica Neue', Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";
export const SERIF = "Charter, 'Bitstream Charter', 'Iowan Old Style', Cambria, Georgia, 'Liberation Serif', serif";

/** Lettering inside pictures. A halo of paper keeps figures legible where they cross a line. */
export const LETTERING = `
.figure,.label,.name{font-family:${SANS};font-size:12px;fill:var(--ink);font-variant-numeric:tabular-nums}
.label{paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
.name{font-size:13px;font-weight:600}
.faint{fill:var(--faint)}
.accent{fill:var(--accent)}
.small{font-size:11px}`;
