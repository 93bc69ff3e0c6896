import { escapeHtml } from '../escape-html.js';
import { plainWords } from '../plain-words.js';

/** A piece of SVG that is already safe. */
export type Svg = { readonly svg: string };

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element; text children are escaped, numbers rounded to a hundredth of a pixel. */
export function element(name: string, attributes: Attributes = {}, ...children: readonly (Svg | string)[]): Svg {
  const given = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? rounded(value) : safe(value ?? '')}"`)
    .join('');
  const inner = children.map((child) => (typeof child === 'string' ? safe(child) : child.svg)).join('');
  return { svg: inner === '' ? `<${name}${given}/>` : `<${name}${given}>${inner}</${name}>` };
}

const safe = (text: string): string => escapeHtml(plainWords(text));

const rounded = (value: number): string => String(Math.round(value * 100) / 100);

/** Words at a place; `anchor` start, middle or end. */
export const words = (x: number, y: number, text: string, more: Attributes = {}): Svg =>
  element('text', { x, y, ...more }, text);

export const segment = (x1: number, y1: number, x2: number, y2: number, more: Attributes = {}): Svg =>
  element('line', { x1, y1, x2, y2, ...more });
