/** Tells when the computer's clock was set, as against time that passed. */
export type ClockSteps = {
  /** By how much the clock was set since this was last asked, ms; + forward. null = not at all, or by no more than it is now and then put right. */
  step(): number | null;
};

/** Smaller ones are the time service's own corrections; order is by entry number, so they do no harm. */
const LEAST_STEP_MS = 2000;

/** `wall` is the clock that may be set, `steady` one that only runs (it stands while the computer sleeps); both in ms. */
export const clockSteps = (wall: () => number, steady: () => number): ClockSteps => {
  let apart = wall() - steady();
  return {
    step: () => {
      const now = wall() - steady();
      const by = now - apart;
      // What creeps is followed: only a jump is told.
      apart = now;
      return Math.abs(by) > LEAST_STEP_MS ? by : null;
    },
  };
};

/** For the log and the report. `toMs`: what the clock says now. */
export const stepWords = (byMs: number, toMs: number, timeZone: string): string => {
  const at = (ms: number): string =>
    new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(ms);
  const slept = byMs > 0 ? ', or the computer slept' : '';
  return `The computer's clock was set ${byMs < 0 ? 'back' : 'forward'} by ${lengthOf(Math.abs(byMs))}, to ${at(toMs)}${slept}. Entries stand in the order they were made; read the counter again.`;
};

const lengthOf = (ms: number): string => {
  const s = Math.round(ms / 1000);
  if (s < 120) return `${s} s`;
  const min = Math.round(s / 60);
  if (min < 120) return `${min} min`;
  const hours = Math.floor(min / 60);
  return hours < 48 ? `${hours} h ${min % 60} min` : `${Math.floor(hours / 24)} days ${hours % 24} h`;
};
