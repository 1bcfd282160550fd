/**
 * SVG and HTML as text: elements with escaped attributes and text, numbers to a hundredth of a unit.
 *
 * User text always passes through `plainText`; nothing here takes raw markup from a project file.
 */
import { inLightColours, LETTERING, PAPER } from './ink.ts';

export type Attributes = Readonly<Record<string, string | number | undefined>>;

const ENTITY: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
/** Text safe inside elements and quoted attributes of HTML and SVG; control characters that XML forbids are dropped. */
export const plainText = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being removed
  text.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '').replace(/[&<>"']/g, (c) => ENTITY[c]!);

/** Text with its end left out when it is longer than a drawing has room for. */
export const shortened = (text: string, most = 28): string => {
  const letters = [...text];
  return letters.length <= most ? text : `${letters.slice(0, most - 1).join('')}…`;
};

/** A coordinate or length: at most two decimals, no exponent, no negative zero. */
export const fixed = (n: number): string => {
  const text = n.toFixed(2).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};

const open = (name: string, attributes: Attributes): string =>
  `<${name}${Object.entries(attributes)
    .filter(([, v]) => v !== undefined)
    .map(([k, v]) => ` ${k}="${typeof v === 'number' ? fixed(v) : plainText(v!)}"`)
    .join('')}`;

/** An SVG element; without children it closes itself. */
export function element(name: string, attributes: Attributes, children: string | readonly string[] = ''): string {
  const inner = typeof children === 'string' ? children : children.join('');
  return inner === '' ? `${open(name, attributes)}/>` : `${open(name, attributes)}>${inner}</${name}>`;
}

/** An HTML element; `children` are markup. */
export const tag = (name: string, attributes: Attributes, ...children: readonly string[]): string =>
  `${open(name, attributes)}>${children.join('')}</${name}>`;

export type Point2 = readonly [number, number];

export const polyline = (points: readonly Point2[], attributes: Attributes, closed = false): string =>
  element('path', {
    d: `M${points.map(([x, y]) => `${fixed(x)} ${fixed(y)}`).join('L')}${closed ? 'Z' : ''}`,
    ...attributes,
  });
export const line = (a: Point2, b: Point2, attributes: Attributes): string => polyline([a, b], attributes);
export const text = (at: Point2, content: string, attributes: Attributes = {}): string =>
  element('text', { x: at[0], y: at[1], ...attributes }, plainText(content));

export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly body: string;
}

/** A whole picture: what it shows is said in words for those who cannot see it. A unit is a CSS pixel, 1/96 inch on paper. */
export const svg = (picture: Picture, title: string, attributes: Attributes = {}): string =>
  element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${fixed(picture.width)} ${fixed(picture.height)}`,
      width: picture.width,
      height: picture.height,
      role: 'img',
      'aria-label': title,
      ...attributes,
    },
    element('title', {}, plainText(title)) + picture.body,
  );

/** A picture as a file of its own: light colours and lettering inside, paper behind. */
export const standaloneSvg = (picture: Picture, title: string): string =>
  `${inLightColours(
    svg(
      {
        ...picture,
        body:
          element('style', {}, LETTERING.trim()) +
          element('rect', { width: picture.width, height: picture.height, fill: PAPER }) +
          picture.body,
      },
      title,
    ),
  )}\n`;

/** Pictures placed on one sheet, each at its own upper left corner. */
export const placed = (picture: Picture, x: number, y: number): string =>
  element('g', { transform: `translate(${fixed(x)} ${fixed(y)})` }, picture.body);
