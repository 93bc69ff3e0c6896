import type { Axis } from '../core/axis.js';
import { nearest } from '../core/nearest.js';
import type { RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { knobOf } from '../core/run/knob-of.js';
import { namedStation } from '../core/run/named-station.js';
import type { RunState } from '../core/run/state.js';

export type MovedWanted = {
  readonly divisions?: string;
  readonly teeth?: string;
  readonly mm?: string;
  readonly counter_m: number;
};

const WAYS: Readonly<Record<string, { readonly axis: Axis; readonly sign: 1 | -1 }>> = {
  advance: { axis: 'along', sign: 1 },
  retard: { axis: 'along', sign: -1 },
  operator: { axis: 'across', sign: 1 },
  gear: { axis: 'across', sign: -1 },
};

/** A knob or gear as turned: the way the PRINT was sent, divisions and teeth each with their own sign in that way (−1 tooth = back). */
export const movedFromWords = (
  state: RunState,
  id: string,
  way: string,
  wanted: MovedWanted,
): Result<readonly RecordBody[]> => {
  const named = namedStation(state, id);
  if (!named.ok) return named;
  const station = named.value;
  const words = Object.keys(WAYS);
  const word = words.find((w) => w === way.toLowerCase());
  const sent = word === undefined ? undefined : WAYS[word];
  if (sent === undefined) {
    const near = nearest(way, words);
    return fail(
      `"${way}" is no way a print goes${near === null ? '' : `; did you mean ${near}`}: say ${words.join(', ')}`,
    );
  }
  const divisions = whole(wanted.divisions, 'divisions');
  if (!divisions.ok) return divisions;
  const teeth = whole(wanted.teeth, '--teeth');
  if (!teeth.ok) return teeth;
  if (teeth.value !== 0 && sent.axis === 'across') return fail('teeth move the print along the web only');
  const knob = knobOf(state.judged, station, sent.axis);
  if (wanted.mm === undefined && divisions.value !== 0 && knob.division_mm === null)
    return fail(
      `the press file does not say how far one division of station ${station.id} moves the print ${sent.axis}: give the movement with --mm`,
    );
  const mm =
    wanted.mm === undefined
      ? teeth.value * state.press.tooth_mm + divisions.value * (knob.division_mm ?? 0)
      : Number(wanted.mm.replace(',', '.'));
  if (!Number.isFinite(mm) || mm === 0) return fail('how far? Give divisions, --teeth or --mm');
  const given = wanted.mm === undefined || divisions.value !== 0 || teeth.value !== 0;
  return ok([
    {
      type: 'correction',
      station: station.id,
      axis: sent.axis,
      move_mm: sent.sign * mm,
      teeth: given ? sent.sign * teeth.value : null,
      divisions: given ? sent.sign * divisions.value : null,
      web_m: wanted.counter_m,
    },
  ]);
};

const whole = (text: string | undefined, what: string): Result<number> => {
  if (text === undefined) return ok(0);
  const n = Number(text);
  return Number.isInteger(n) ? ok(n) : fail(`${what} "${text}" is not a whole number`);
};
