/** How names, figures and prose of the study are set on the page. */
import { figureText, type Judged } from '#study';
import { plainText, tag } from './svg.ts';

/** The candidate's name, with its variant: variants share the name of the file they vary. */
export const nameOf = (c: { readonly id: string; readonly name: string }): string => {
  const variant = c.id.split('+')[1];
  return variant === undefined ? c.name : `${c.name}, ${variant.replaceAll('_', ' ')}`;
};
export const candidateName = (j: Judged): string => nameOf(j.candidate);

/** `post_clamp` and `rear.stay_left` as people read them. */
export const spaced = (name: string): string => name.replace(/[_.]/g, ' ');
/** A shape's name without the number of its piece: `rear.stay (2 of 5)` reads `rear stay`. */
export const shapeWords = (name: string): string => spaced(name.replace(/ \(\d+ of \d+\)$/, ''));
export const capital = (s: string): string => s.charAt(0).toUpperCase() + s.slice(1);

/** A minus sign before figures, degrees and powers as printed; for text, before it is escaped. */
export const typeset = (words: string): string =>
  words
    .replace(/(^|[\s(≤≥±,])-(?=\d)/g, '$1−')
    .replace(/(\d) deg(?![\w/])/g, '$1°')
    .replace(/\b(m|mm|s)([23])(?!\w)/g, (_, unit: string, power: string) => unit + (power === '2' ? '²' : '³'));

/** `11.92 kg`, `−3.2 mm`, `71.5°`. */
export const figureWords = (value: number, unit: string): string => typeset(figureText(value, unit));
/** As typed in the brief: no more digits than it has. */
export const typedWords = (value: number, unit: string): string =>
  typeset(`${Number(value.toPrecision(6))}${unit ? ` ${unit}` : ''}`);

/** Sentences of the study as markup: escaped, `names` between backticks set as code. */
export const prose = (words: string): string =>
  plainText(typeset(words)).replace(/`([^`]+)`/g, (_, name: string) => tag('code', {}, name));
