import type { RecordBody } from '../core/record.js';
import { fail, ok, type Result } from '../core/result.js';
import { namedStation } from '../core/run/named-station.js';
import { rollOfSample, rollsNow } from '../core/run/roll-of-sample.js';
import type { RunState } from '../core/run/state.js';
import { stationsOf } from '../core/run/stations.js';
import { okToRun } from '../core/views/ok-to-run.js';
import { type ActOptions, act, counterOf } from './act.js';
import { checkFromWords } from './act-check.js';
import { movedFromWords } from './act-moved.js';
import { ask } from './ask.js';
import { askFlaws } from './ask-flaws.js';
import type { Exit, Io } from './exit.js';

type Counter = ActOptions & { readonly counter?: string };

/** OK to run, on the last full check. */
export const okRun = (
  options: Counter & { readonly passedBy?: string; readonly sample?: boolean },
  io: Io,
): Promise<Exit> =>
  act(options, io, async (runtime) => {
    const state = runtime.state();
    const ready = okToRun(state);
    if (!ready.possible) return fail(ready.why);
    const by = await ask(options.passedBy, 'Who passed the sample?', '--passed-by NAME');
    if (!by.ok) return by;
    const web = at(state, options.counter);
    if (!web.ok) return web;
    return ok([
      {
        type: 'ok',
        web_m: web.value,
        zero_m: state.judged.ok === null ? web.value : null,
        passed_by: by.value,
        check: state.judged.last_check?.check ?? null,
        hold_to: options.sample === true ? 'sample' : 'aim',
      },
    ]);
  });

export const keyCheck = (
  words: readonly string[],
  options: Counter & {
    readonly roll?: string;
    readonly looked?: boolean;
    readonly clean?: boolean;
    readonly note?: string;
  },
  io: Io,
): Promise<Exit> =>
  act(options, io, async (runtime) => {
    const state = runtime.state();
    const web = state.judged.pulls.length > 0 ? ok(0) : await counterAsked(state, options.counter);
    if (!web.ok) return web;
    let given = words;
    if (given.length === 0 && options.looked !== true && options.clean !== true) {
      const asked = await ask(
        undefined,
        `Readings, as STATION:ALONG:ACROSS:PLATE:FLAWS, blanks between stations (${stationsOf(state.press, state.job)
          .map((s) => s.id)
          .join(' ')}):`,
        'words like 2:5A:12O:clean, 5:::dirty:3/40,fill-in,leading',
      );
      if (!asked.ok) return asked;
      given = asked.value.split(/\s+/);
    }
    const bodies = checkFromWords(state, given, {
      counter_m: web.value,
      roll: options.roll ?? rollOfSample(rollsNow(state.judged, state.judged.pulls[0]?.web_m ?? web.value)),
      looked: options.looked === true,
      clean: options.clean === true,
      ...(options.note === undefined ? {} : { note: options.note }),
      at: new Date(runtime.now()).toISOString(),
    });
    return bodies.ok && given !== words ? ok(await askFlaws(state, bodies.value, io)) : bodies;
  });

export const moved = (
  station: string,
  way: string,
  divisions: string | undefined,
  options: Counter & { readonly teeth?: string; readonly mm?: string },
  io: Io,
): Promise<Exit> =>
  act(options, io, (runtime) => {
    const web = at(runtime.state(), options.counter);
    if (!web.ok) return web;
    return movedFromWords(runtime.state(), station, way, {
      counter_m: web.value,
      ...(divisions === undefined ? {} : { divisions }),
      ...(options.teeth === undefined ? {} : { teeth: options.teeth }),
      ...(options.mm === undefined ? {} : { mm: options.mm }),
    });
  });

/** A finished roll off the rewind, or new stock at the unwind: two different things. */
export const roll = (
  what: string,
  value: string | undefined,
  options: Counter & { readonly stock?: string; readonly lot?: string },
  io: Io,
): Promise<Exit> =>
  act(options, io, async (runtime) => {
    const web = await counterAsked(runtime.state(), options.counter);
    if (!web.ok) return web;
    if (what === 'off') {
      if (options.stock !== undefined || options.lot !== undefined)
        return fail('--stock and --lot are of a stock roll: holdreg roll new');
      const number = await ask(value, 'Number of the finished roll?', 'holdreg roll off NUMBER');
      return number.ok ? ok([{ type: 'finished', web_m: web.value, roll: number.value }]) : number;
    }
    if (what !== 'new') return fail(`"${what}" is neither off (a finished roll) nor new (a stock roll)`);
    const length = value === undefined ? null : Number(value.replace(',', '.'));
    if (length !== null && !(length > 0)) return fail(`"${value}" is not a length in metres`);
    return ok([
      {
        type: 'roll',
        web_m: web.value,
        length_m: length,
        ...(options.stock === undefined ? {} : { stock: options.stock }),
        ...(options.lot === undefined ? {} : { lot: options.lot }),
      },
    ]);
  });

export const wash = (station: string, options: Counter, io: Io): Promise<Exit> =>
  act(options, io, (runtime) => {
    const web = at(runtime.state(), options.counter);
    if (!web.ok) return web;
    const named = station === 'all' ? ok({ id: station }) : namedStation(runtime.state(), station);
    return named.ok ? ok([{ type: 'wash', station: named.value.id, web_m: web.value }]) : named;
  });

export const stop = (options: Counter & { readonly over?: boolean }, io: Io): Promise<Exit> =>
  simple(options, io, (web_m) => (options.over === true ? { type: 'start', web_m } : { type: 'stop', web_m }));

export const end = (options: Counter, io: Io): Promise<Exit> =>
  simple(options, io, (web_m) => ({ type: 'end', web_m }));

const simple = (options: Counter, io: Io, make: (web_m: number) => RecordBody): Promise<Exit> =>
  act(options, io, (runtime) => {
    const web = at(runtime.state(), options.counter);
    return web.ok ? ok([make(web.value)]) : web;
  });

const at = (state: RunState, counter: string | undefined): Result<number> => counterOf(state, counter);

const counterAsked = async (state: RunState, counter: string | undefined): Promise<Result<number>> => {
  if (counter === undefined && process.stdin.isTTY) {
    const asked = await ask(undefined, `Counter, ${state.job.units.length}?`, '--counter NUMBER');
    return asked.ok ? counterOf(state, asked.value) : asked;
  }
  return counterOf(state, counter);
};
