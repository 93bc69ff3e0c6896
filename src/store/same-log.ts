import { readFileSync } from 'node:fs';
import { segmentsOf } from './segments.js';

/** Whether two run folders hold the same log, byte for byte. */
export const sameLog = (one: string, other: string): boolean => {
  const [a, b] = [segmentsOf(one), segmentsOf(other)];
  if (!a.ok || !b.ok || a.value.length !== b.value.length) return false;
  try {
    return a.value.every((file, index) => readFileSync(file).equals(readFileSync(b.value[index] ?? '')));
  } catch {
    return false;
  }
};
