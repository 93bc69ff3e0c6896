import { type RegisterUnit, registerFromMm } from '../units.js';

const DECIMALS: Readonly<Record<RegisterUnit, number>> = { mm: 2, in: 4, thou: 1, '64ths': 1 };
const UNIT: Readonly<Record<RegisterUnit, string>> = { mm: ' mm', in: ' in', thou: ' thou', '64ths': '/64 in' };

/** A register amount inside a sentence, in the job's unit, without side: "0.06 mm", "2.4 thou", "1.5/64 in". */
export const sayRegister = (mm: number, unit: RegisterUnit): string =>
  `${Math.abs(registerFromMm(mm, unit)).toFixed(DECIMALS[unit])}${UNIT[unit]}`;
