import { MM_PER_INCH, type RegisterUnit } from '../units.js';

/** A register amount in the job's unit, without sign: "0.06 mm", "2.4 thou", "1.5/64 in". */
export const sayRegister = (mm: number, unit: RegisterUnit): string => {
  const size = Math.abs(mm);
  if (unit === 'mm') return `${size.toFixed(2)} mm`;
  if (unit === 'in') return `${(size / MM_PER_INCH).toFixed(4)} in`;
  if (unit === 'thou') return `${((size / MM_PER_INCH) * 1000).toFixed(1)} thou`;
  return `${((size / MM_PER_INCH) * 64).toFixed(1)}/64 in`;
};
