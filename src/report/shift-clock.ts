/** Writes times of one report: the named zone, the day when the report spans more than one, the offset when the clocks changed in it. */
export type ShiftClock = {
  /** "14:05", or "12 May 23:40", or "26 Oct 02:30 (UTC+1)". A time that cannot be read is given back as it is. */
  readonly time: (iso: string) => string;
  /** "Tuesday 12 May 2026, 14:05". */
  readonly full: (iso: string) => string;
  /** "Europe/Vienna (UTC+2)". */
  readonly zone: string;
  readonly clocksChanged: boolean;
};

/** A zone that the computer does not know is replaced by UTC, and the zone's words say so. */
export function shiftClock(timeZone: string, fromIso: string, toIso: string): ShiftClock {
  const known = isKnown(timeZone);
  const zone = known ? timeZone : 'UTC';
  const format = formatOf(zone);
  const from = parts(format, fromIso);
  const to = parts(format, toIso);
  const manyDays = from !== null && to !== null && from.date !== to.date;
  const clocksChanged = from !== null && to !== null && from.offset !== to.offset;
  const name = known ? zone : `UTC (the zone "${timeZone}" is not known here)`;
  const offset = (to ?? from)?.offset;
  return {
    clocksChanged,
    zone: offset === undefined || name === 'UTC' || !known ? name : `${name} (${offset})`,
    full: (iso) => {
      const at = parts(format, iso);
      return at === null ? iso : `${at.weekday} ${at.date}, ${at.clock}${clocksChanged ? ` (${at.offset})` : ''}`;
    },
    time: (iso) => {
      const at = parts(format, iso);
      if (at === null) return iso;
      const day = manyDays || at.date !== (to ?? at).date ? `${at.dayMonth} ` : '';
      return `${day}${at.clock}${clocksChanged ? ` (${at.offset})` : ''}`;
    },
  };
}

type Parts = {
  readonly weekday: string;
  readonly date: string;
  readonly dayMonth: string;
  readonly clock: string;
  readonly offset: string;
};

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

function parts(format: Intl.DateTimeFormat, iso: string): Parts | null {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return null;
  const found: Record<string, string> = {};
  for (const part of format.formatToParts(date)) found[part.type] = part.value;
  const month = MONTHS[Number(found.month) - 1] ?? '';
  const dayMonth = `${Number(found.day)} ${month}`;
  return {
    weekday: found.weekday ?? '',
    date: `${dayMonth} ${found.year ?? ''}`,
    dayMonth,
    clock: `${found.hour ?? ''}:${found.minute ?? ''}`,
    offset: (found.timeZoneName ?? '').replace('GMT', 'UTC').replace('-', '−'),
  };
}

const formatOf = (timeZone: string): Intl.DateTimeFormat =>
  new Intl.DateTimeFormat('en-GB', {
    timeZone,
    weekday: 'long',
    day: 'numeric',
    month: 'numeric',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
    timeZoneName: 'shortOffset',
  });

function isKnown(timeZone: string): boolean {
  try {
    new Intl.DateTimeFormat('en-GB', { timeZone });
    return true;
  } catch {
    return false;
  }
}
