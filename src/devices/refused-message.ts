import type { Refusal } from './profile.js';

/** A message that is not used, and why. */
export type RefusedMessage = { readonly kind: 'refused'; readonly why: Refusal; readonly detail: string };

export const refused = (why: Refusal, detail: string): RefusedMessage => ({ kind: 'refused', why, detail });
