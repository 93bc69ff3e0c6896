/** How register is keyed and shown; millimetres are kept inside and in every file. */
export type RegisterUnit = 'mm' | 'in' | 'thou' | '64ths';

/** How web length is keyed and shown; metres are kept inside and in every file. */
export type LengthUnit = 'm' | 'ft' | 'repeats';

/** Exact by definition of the international inch and foot (1959). */
export const MM_PER_INCH = 25.4;
export const M_PER_FOOT = 0.3048;
