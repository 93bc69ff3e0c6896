import { jsonWithCodes } from '../core/hidden-characters.js';

/** One JSON document as text, names and notes exactly as they were given: JSON itself makes them harmless. */
export const jsonText = (value: unknown): string => `${jsonWithCodes(value, 2)}\n`;
