import { visible } from '../core/quoted.js';
import type { Refusal } from './profile.js';

/** Text with bytes beyond ASCII, in the encoding the profile says. */
export const decodeText = (
  body: string,
  encoding: 'ascii' | 'utf8' | 'latin1',
): string | { readonly why: Refusal; readonly detail: string } => {
  if (encoding === 'ascii') return { why: 'encoding', detail: 'bytes beyond ASCII' };
  let text = body;
  if (encoding === 'utf8') {
    try {
      text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(Buffer.from(body, 'latin1'));
    } catch {
      return { why: 'encoding', detail: 'not UTF-8' };
    }
  }
  return visible(text) === text
    ? text
    : { why: 'control bytes', detail: 'control or text-direction characters in a line of text' };
};
