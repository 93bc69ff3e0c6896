import type { Axis } from '../axis.js';

/** True register now by station, mm; null = not known. */
export type Levels = Readonly<Record<string, { readonly mean_mm: number; readonly sd_mm: number } | null>>;
export type PerAxisLevels = Readonly<Record<Axis, Levels>>;
