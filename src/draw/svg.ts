/**
 * SVG as text: elements with escaped attributes and text, numbers to a tenth of a unit.
 *
 * User text always passes through `plainText`; nothing here takes raw markup from a project file.
 */
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
  text.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, '').replace(/[&<>"']/g, (c) => ENTITY[c]!);

/** A coordinate or length: at most two decimals, no exponent, no negative zero. */
export const fixed = (n: number): string => {
  const text = n.toFixed(2).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};

export function element(name: string, attributes: Attributes, children: string | readonly string[] = ''): string {
  const list = Object.entries(attributes)
    .filter(([, v]) => v !== undefined)
    .map(([k, v]) => ` ${k}="${typeof v === 'number' ? fixed(v) : plainText(v!)}"`)
    .join('');
  const inner = typeof children === 'string' ? children : children.join('');
  return inner === '' ? `<${name}${list}/>` : `<${name}${list}>${inner}</${name}>`;
}

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

/** A whole picture: what it shows is said in words for those who cannot see it. */
export const svg = (picture: Picture, title: string, attributes: Attributes = {}): string =>
  element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${fixed(picture.width)} ${fixed(picture.height)}`,
      role: 'img',
      'aria-label': title,
      ...attributes,
    },
    element('title', {}, plainText(title)) + picture.body,
  );
