import { element, type Svg } from './element.js';

export type PictureText = {
  /** Letters, digits and dashes, different for each picture of a page. */
  readonly id: string;
  readonly title: string;
  /** What the picture shows, for someone who does not see it. */
  readonly description: string;
};

/** Ink on paper: dark enough for print and for a contrast of 4.5 : 1 on white for words, 3 : 1 for marks (WCAG 2 SC 1.4.3, 1.4.11). */
export const INK = {
  black: '#1a1a1a',
  grey: '#595959',
  faint: '#d9d9d9',
  band: '#eef4ee',
  level: '#1f4e79',
  out: '#a40000',
  turned: '#7a4b00',
  held: '#e8c9a0',
} as const;

/** A whole SVG picture that stands alone: own font, own size, scales to its place, named and described for a screen reader. */
export const picture = (text: PictureText, width: number, height: number, children: readonly Svg[]): string =>
  element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      role: 'img',
      'aria-labelledby': `${text.id}-t ${text.id}-d`,
      viewBox: `0 0 ${width} ${height}`,
      width: '100%',
      'font-family': 'system-ui, sans-serif',
      'font-size': 12,
      fill: INK.black,
    },
    element('title', { id: `${text.id}-t` }, text.title),
    element('desc', { id: `${text.id}-d` }, text.description),
    element('rect', { width, height, fill: '#ffffff' }),
    ...children,
  ).svg;

/** The letters, digits and dashes of a name, for ids. */
export const idOf = (...parts: readonly string[]): string =>
  parts.join('-').replace(/[^A-Za-z0-9-]/g, (found) => `_${found.codePointAt(0)?.toString(36) ?? ''}`);
