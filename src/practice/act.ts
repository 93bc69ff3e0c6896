import { capital } from '../core/capital.js';
import { quoted } from '../core/quoted.js';
import { fail, ok, type Result } from '../core/result.js';
import { labelOf, type Station } from '../core/run/stations.js';
import { tellsFrom } from '../core/web.js';
import { COST } from './exercise.js';
import { type Turned, turnKnob } from './knob.js';
import { type Done, stationOf, type World } from './world.js';

/** Everything that can be done at the practice press. */
export type PracticeAct =
  | ({ readonly kind: 'turn' } & Turned)
  | { readonly kind: 'run'; readonly metres: number }
  | { readonly kind: 'wash'; readonly station: string }
  | { readonly kind: 'name'; readonly what: string }
  | {
      readonly kind: 'pull' | 'label' | 'tension' | 'stop' | 'safe' | 'start' | 'print off' | 'print on' | 'ok' | 'end';
    };

/**
 * One act at the press. Refused with the reason what a real press would punish: a tooth parted on a running press, a hand near a plate that
 * turns. A refusal changes nothing.
 */
export const act = (world: World, done: PracticeAct): Result<World> => {
  if (world.ended) return fail('The exercise is over.');
  switch (done.kind) {
    case 'run':
      return runOn(world, done.metres);
    case 'pull':
      return pull(world);
    case 'label':
      return secondLabel(world);
    case 'turn':
      return turn(world, done);
    case 'wash':
      return wash(world, done.station);
    case 'name':
      return ok(add(world, { kind: 'named', web_m: world.web_m, what: done.what }));
    case 'tension':
      return ok(add(world, { kind: 'tension', web_m: world.web_m }));
    case 'stop':
      return world.running
        ? ok({ ...add(world, { kind: 'stop', web_m: world.web_m }), running: false })
        : fail('The press is stopped already.');
    case 'safe':
      return world.running
        ? fail('The press runs. Stop it first, then make it safe by the site rules.')
        : ok({ ...add(world, { kind: 'safe', web_m: world.web_m }), safe: true });
    case 'start':
      return world.running
        ? fail('The press runs already.')
        : ok({ ...add(world, { kind: 'start', web_m: world.web_m }), running: true, safe: false });
    case 'print off':
      return world.print_on
        ? ok({ ...add(world, { kind: 'print off', web_m: world.web_m }), print_on: false })
        : fail('The print is off already.');
    case 'print on':
      return world.print_on
        ? fail('The print is on already.')
        : ok({ ...add(world, { kind: 'print on', web_m: world.web_m }), print_on: true });
    case 'ok':
      if (world.ok_m !== null) return fail('OK to run was given already.');
      if (!world.running || !world.print_on)
        return fail('OK to run is given on a running press that prints. Start it, print on.');
      return ok({ ...add(world, { kind: 'ok', web_m: world.web_m }), ok_m: world.web_m });
    case 'end':
      return ok({ ...world, ended: true });
  }
};

/** Counter from which on a sample shows everything that was turned, set or washed; now, when nothing waits. */
export const tellsAt = (world: World): number =>
  world.done.reduce((from, d) => {
    if (d.kind === 'tension') return Math.max(from, ...world.stations.map((s) => tells(world, d.web_m, s)));
    if (d.kind === 'print on') return Math.max(from, ...world.stations.map((s) => tells(world, d.web_m, s)));
    if (d.kind !== 'turn' && d.kind !== 'wash') return from;
    const station = stationOf(world, d.station);
    return station === null ? from : Math.max(from, tells(world, d.web_m, station));
  }, world.web_m);

const tells = (world: World, web_m: number, station: Station): number =>
  Math.ceil(tellsFrom(web_m, world.press.sample_m, station.at_m) - 1e-9);

const add = (world: World, done: Done): World => ({ ...world, done: [...world.done, done] });

/** The web runs on, in whole metres; it halts by itself at a splice, so that it can be told, and at the end of the stock. */
const runOn = (world: World, metres: number): Result<World> => {
  if (!world.running) return fail('The press stands. Start it first.');
  if (!Number.isFinite(metres) || metres < 1)
    return fail(`"${metres}" is no number of metres to run; at least 1, as: run 20`);
  const splice = world.exercise.splices_m.find((m) => m > world.web_m) ?? Infinity;
  const to = Math.min(Math.floor(world.web_m + metres), splice, world.exercise.to_m);
  return ok({ ...world, web_m: to, ended: to >= world.exercise.to_m });
};

const pull = (world: World): Result<World> => {
  if (!world.running) return fail('The press stands: a sample would be the same as the last. Start it first.');
  if (!world.print_on)
    return fail('Nothing is printed: the print is off. Throw it on (on), let the web run, then pull.');
  const pulled = add(world, { kind: 'pull', web_m: world.web_m, check: world.next_check });
  const next = { ...pulled, next_check: world.next_check + 1 };
  // While it is read the run goes on; in make-ready the web hardly creeps.
  if (world.ok_m === null) return ok(next);
  const on = runOn(next, COST.reading_m);
  return on.ok ? on : ok(next);
};

const secondLabel = (world: World): Result<World> => {
  const last = lastPull(world);
  if (last === null) return fail('There is no sample yet. Pull one first.');
  const looked = world.done.some((d) => d.kind === 'label' && d.of === last.check);
  if (looked) return fail('Two labels of this sample were read. Pull another sample.');
  const label: Done = { kind: 'label', web_m: last.web_m, check: world.next_check, of: last.check };
  return ok({ ...add(world, label), next_check: world.next_check + 1 });
};

export const lastPull = (world: World): Extract<Done, { kind: 'pull' }> | null => {
  const pulls = world.done.flatMap((d) => (d.kind === 'pull' ? [d] : []));
  return pulls.at(-1) ?? null;
};

const turn = (world: World, turned: Turned): Result<World> => {
  const station = stationOf(world, turned.station);
  if (station === null) return unknownStation(world, turned.station);
  const axis = turned.toward === 'advance' || turned.toward === 'retard' ? 'along' : 'across';
  if (station.fixed.includes(axis))
    return fail(
      `${capital(labelOf(station))} cannot be moved ${axis === 'across' ? 'side to side' : 'along'} on this press: the print is brought to it.`,
    );
  if (turned.teeth !== 0 && axis === 'across')
    return fail('Teeth are gear teeth: they move the print along the web only. Side to side goes by the knob.');
  if (turned.teeth === 0 && turned.divisions === 0) return fail('Nothing to turn: say how many teeth or divisions.');
  if (!Number.isInteger(turned.teeth) || !Number.isInteger(turned.divisions))
    return fail('Teeth and divisions are whole numbers.');
  if (turned.teeth !== 0) {
    const unsafe = notSafe(world, 'A tooth move parts the gears', true);
    if (unsafe !== null) return fail(unsafe);
  } else if (station.kind === 'die') {
    const unsafe = notSafe(world, 'The die is moved at a standstill only', false);
    if (unsafe !== null) return fail(unsafe);
  }
  const done = turnKnob(world, station, turned);
  return done.ok ? ok(add(world, done.value)) : done;
};

const wash = (world: World, id: string): Result<World> => {
  const station = stationOf(world, id);
  if (station === null) return unknownStation(world, id);
  if (station.kind === 'die') return fail('The die has no plate to wash.');
  const unsafe = notSafe(world, 'A plate is never touched on a press that can turn', false);
  return unsafe === null ? ok(add(world, { kind: 'wash', web_m: world.web_m, station: station.id })) : fail(unsafe);
};

/** What is still to be done before hands go in; null = it may be done. */
const notSafe = (world: World, why: string, thrown_off: boolean): string | null => {
  const missing = [
    ...(world.running ? ['stop the press (stop)'] : []),
    ...(world.running || !world.safe ? ['make it safe by the site rules (safe)'] : []),
    ...(thrown_off && world.print_on ? ['throw the print off (off)'] : []),
  ];
  return missing.length === 0
    ? null
    : `REFUSED. ${why}: first ${missing.join(', then ')}. Nothing was moved. On a real press this costs a hand, not metres.`;
};

const unknownStation = (
  world: World,
  id: string,
): { readonly ok: false; readonly problem: { readonly message: string } } =>
  fail(`There is no station ${quoted(id)} on this press; it has ${world.stations.map((s) => s.id).join(', ')}.`);
