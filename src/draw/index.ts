export { type Bar, bars, likenessBars, massBars } from './bars.ts';
export { eigenPlot } from './eigen-plot.ts';
export { type ElevationOptions, elevation, type Measure, rideMeasures, type ScaledPicture } from './elevation.ts';
export { type FoldFigure, foldFigures } from './fold-figures.ts';
export { candidateLedger, ledgerTable } from './ledger-table.ts';
export { packageViews, spaceViews } from './package-views.ts';
export { type PageInput, page } from './page.ts';
export { plate, platesSheet } from './plates.ts';
export { type Picture, standaloneSvg, svg } from './svg.ts';
