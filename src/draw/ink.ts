/**
 * Pens and colours of the sheet: ink on paper, one accent. Colours are CSS variables so that light, dark and print share
 * one drawing. Line widths follow ISO 128-2: wide 0.5 mm for visible edges, narrow 0.25 mm for dimensions, centre lines
 * long-dashed dotted, positions of moving parts long-dashed double-dotted.
 */
export const INK = 'var(--ink)';
export const PAPER = 'var(--paper)';
export const FAINT = 'var(--faint)';
export const ACCENT = 'var(--accent)';
export const WIDE = 1.6;
export const NARROW = 0.8;
export const CENTRE_LINE = '10 3 2 3';
export const GHOST_LINE = '10 3 2 3 2 3';

/** The variables, once per page. */
export const INK_STYLE = `
:root{--ink:#1c2430;--paper:#fdfcf8;--faint:#8b93a0;--accent:#a33c14;--rule:#d9d5c9;--wash:#f2efe5}
@media (prefers-color-scheme:dark){:root{--ink:#e6e3da;--paper:#171a1f;--faint:#8f97a3;--accent:#f0895c;--rule:#3a3f47;--wash:#20242b}}
@media print{:root{--ink:#000;--paper:#fff;--faint:#666;--accent:#8a2f0c;--rule:#bbb;--wash:#fff}}
`;
