import type { Understood } from './understand.js';
import { wireText } from './wire-text.js';

/** What a message was understood as, in one short line safe to show: "2 along +0.012 across -0.034 strength 0.87". */
export const tellUnderstood = (u: Understood): string => {
  if (u.kind === 'refused') return `refused, ${u.why}: ${wireText(u.detail, 60)}`;
  if (u.kind !== 'readings') return u.kind === 'heartbeat' ? 'sign of life' : 'not used';
  const at = u.counter_m === null ? '' : `${u.counter_m.toFixed(1)} m  `;
  return (
    at +
    u.readings
      .map((r) => {
        const parts = [
          r.along_mm === null ? null : `along ${signed(r.along_mm)}`,
          r.across_mm === null ? null : `across ${signed(r.across_mm)}`,
          r.along_mm === null && r.across_mm === null ? 'no usable mark' : null,
          r.strength === null ? null : `strength ${r.strength.toFixed(2)}`,
          r.width_mm === null ? null : `width ${r.width_mm.toFixed(2)}`,
        ];
        return `${wireText(r.station, 20)} ${parts.filter((p) => p !== null).join(' ')}`;
      })
      .join('; ')
  );
};

const signed = (mm: number): string => `${mm < 0 ? '-' : '+'}${Math.abs(mm).toFixed(3)}`;
