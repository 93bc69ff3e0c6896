import type { Profile } from './profile.js';
import { takeApart } from './take-apart.js';
import { wireNumber } from './wire-number.js';

/** The pieces of the message at hand, as text without blanks around it or as numbers (null = no value, undefined = no number). */
export type MessagePieces = {
  readonly at: (name: string) => number;
  readonly take: (text: string, from: number, to: number) => boolean;
  readonly plain: () => boolean;
  readonly text: (at: number) => string;
  readonly number: (at: number) => number | null | undefined;
};

export const messagePieces = (profile: Profile): MessagePieces => {
  const apart = takeApart(profile.fields);
  const index = new Map(apart.names.map((name, i) => [name, i] as const));
  const missing = new Set(profile.missing);
  // Where no text for "no value" looks like a number, only what is no number is looked up.
  const numeric = profile.missing.some((m) => wireNumber(m, profile.decimal) !== undefined);
  const { decimal } = profile;
  const { numbers, from, to } = apart;
  let body = '';
  const text = (at: number): string => (numbers === null ? body.slice(from[at], to[at]).trim() : String(numbers[at]));
  return {
    at: (name) => index.get(name) ?? -1,
    take: (next, begin, end) => {
      body = next;
      return apart.cut(next, begin, end);
    },
    plain: apart.plain ?? never,
    text,
    number: (at) => {
      if (numeric && missing.has(text(at))) return null;
      if (numbers === null) {
        const value = wireNumber(body, decimal, from[at], to[at]);
        return value === undefined && missing.has(text(at)) ? null : value;
      }
      const value = numbers[at];
      return value !== undefined && Number.isFinite(value) ? value : undefined;
    },
  };
};

const never = (): boolean => false;
