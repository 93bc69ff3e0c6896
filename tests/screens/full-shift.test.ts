import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { readSetup } from '../../src/commands/read-setup.js';
import type { Finding } from '../../src/core/finding.js';
import { flawFields, flawOf } from '../../src/core/plates/flaw.js';
import { readReadings } from '../../src/core/readings/read-readings.js';
import type { Check, LogRecord, RecordBody } from '../../src/core/record.js';
import { RULES } from '../../src/core/run/begin.js';
import { openRun, type Runtime } from '../../src/runtime.js';
import { createRun } from '../../src/store/run-folder.js';
import { KIND_ANSWERS, PLACE_ANSWERS } from '../../src/ui/check/flaw.js';
import type { BoardPort } from '../../src/ui/port.js';
import { createSession, type Session } from '../../src/ui/session.js';
import { strokesOf } from '../ui/desk.js';
import { look } from '../ui/frame-of.js';

/**
 * A whole shift of the demo scenario, keyed at the board and nothing but keyed, on the real runtime with its log on a real disk.
 * What the run finds must be what it finds when the same facts are put in directly.
 */
const DATA = fileURLToPath(new URL('../../demo-data/', import.meta.url));
const folders: string[] = [];
afterAll(() => {
  for (const one of folders) rmSync(one, { recursive: true, force: true });
});

type Fact = { readonly body: RecordBody; readonly at_ms: number };

function demo(): { readonly first: RecordBody; readonly facts: readonly Fact[] } {
  const setup = readSetup(join(DATA, 'press.json'), join(DATA, 'job.json'));
  if (!setup.ok) throw new Error(setup.problem.message);
  const runs = readReadings(readFileSync(join(DATA, 'run.csv'), 'utf8'), 'run.csv', setup.value);
  if (!runs.ok) throw new Error(runs.problem.message);
  const first: RecordBody = {
    type: 'begin',
    run: 'demo',
    ...setup.value,
    rules: RULES,
    program: 'test',
    time_zone: 'UTC',
  };
  return {
    first,
    facts: (runs.value[0]?.records ?? []).map(({ body, at }) => ({ body, at_ms: Date.parse(at ?? '') })),
  };
}

async function open(first: RecordBody, now: () => number): Promise<Runtime> {
  const folder = mkdtempSync(join(tmpdir(), 'holdreg-shift-'));
  folders.push(folder);
  const run = createRun(folder, 'demo');
  if (!run.ok) throw new Error(run.problem.message);
  const opened = await openRun(run.value, { now, operator: 'MK', first });
  if (!opened.ok) throw new Error(opened.problem.message);
  return opened.value;
}

/** What was found, as one line an event or result; ids and confidences aside. */
const story = (found: readonly Finding[]): readonly string[] =>
  found.flatMap((one) => {
    if (one.type === 'event')
      return [`${one.severity} ${one.axis} ${JSON.stringify(one.cause)} since check ${one.since.check}`];
    if (one.type === 'correction')
      return [`correction ${one.station} ${one.axis} ${one.took ? 'took' : 'did not take'}`];
    return one.type === 'closed'
      ? [`closed ${one.how}`]
      : one.type === 'plate'
        ? [`plate ${one.station} ${one.state}`]
        : [];
  });

/** Keys that put one fact on record, as an operator at the board would press them. */
class Operator {
  keys = 0;
  readonly #session: Session;
  readonly #runtime: Runtime;
  constructor(session: Session, runtime: Runtime) {
    this.#session = session;
    this.#runtime = runtime;
  }

  async press(words: string): Promise<void> {
    for (const stroke of strokesOf(words)) {
      this.keys += 1;
      this.#session.key(stroke);
      await this.#session.settled();
    }
  }

  /** Fills the fields of the open form by Tab, typing and arrows, then Enter. */
  async fill(values: Readonly<Record<string, string>>): Promise<void> {
    for (const [name, value] of Object.entries(values)) {
      for (let i = 0; i < 20 && this.#field()?.name !== name; i += 1) await this.press('[tab]');
      const field = this.#field();
      if (field?.name !== name) throw new Error(`no field ${name}`);
      if (field.choices === undefined) await this.press(`${value === '' ? '[backspace]' : value}`);
      else for (let i = 0; i < 20 && this.#field()?.text !== value; i += 1) await this.press('[right]');
    }
    await this.press('[enter]');
    const { mode } = this.#session.screen();
    if (mode.kind === 'form') throw new Error(`still asked: ${mode.form.message ?? mode.form.act}`);
  }

  async check(check: Check): Promise<void> {
    await this.press('v');
    await this.fill({ counter: String(check.web_m) });
    await this.press('pc');
    const view = this.#runtime.board();
    for (const station of view.stations) {
      const read = check.readings.find((one) => one.station === station.id);
      for (const axis of ['along', 'across'] as const) {
        if (station.is_reference || (station.read === 'look' && axis === 'across')) continue;
        const mm = axis === 'along' ? read?.along_mm : read?.across_mm;
        if (mm === null || mm === undefined) {
          await this.press(read?.look === 'in' ? 'i[enter]' : read?.look === 'off' ? 'x[enter]' : '[enter]');
          continue;
        }
        const side = mm === 0 ? '' : axis === 'along' ? (mm > 0 ? 'A' : 'B') : mm > 0 ? 'O' : 'G';
        await this.press(`${Math.round(Math.abs(mm) * 100)}${side}[enter]`);
      }
    }
    for (const station of view.stations) {
      if (station.kind !== 'print') continue;
      const read = check.readings.find((one) => one.station === station.id);
      const grade =
        read?.plate === 'building' ? 'b' : read?.plate === 'dirty' ? 'd' : read?.plate === 'clean' ? 'c' : '';
      const flaws = read?.flaws === null || read?.flaws === undefined ? '' : `${read.flaws}/${read.labels ?? ''}`;
      const kind = KIND_ANSWERS.find((one) => one.says.kind === read?.flaw_kind)?.key ?? '';
      const edge =
        PLACE_ANSWERS.find((one) => one.says.edge !== undefined && one.says.edge === read?.flaw_edge)?.key ?? '';
      const comes =
        PLACE_ANSWERS.find((one) => one.says.comes !== undefined && one.says.comes === read?.flaw_comes)?.key ?? '';
      await this.press(`${grade}${flaws}${kind}${edge}${comes}[enter]`);
    }
    // Read it again? It was, and stands.
    for (let i = 0; i < 40 && /keeps it as keyed/.test(this.#draft()?.message ?? ''); i += 1)
      await this.press('[enter]');
    await this.press('[enter]');
    if (this.#session.screen().mode.kind === 'grid')
      throw new Error(`check ${check.check} not saved: ${this.#draft()?.message ?? ''}`);
  }

  async fact(body: RecordBody): Promise<void> {
    const web = 'web_m' in body && body.web_m !== null ? String(body.web_m) : '';
    switch (body.type) {
      case 'check':
        return this.check(body);
      case 'ok':
        await this.press('o');
        return this.fill({ counter: web, passed_by: body.passed_by, hold_to: body.hold_to, speed: '' });
      case 'speed':
        await this.press('v');
        return this.fill({ counter: web, speed: String(body.m_per_min) });
      case 'finished':
        await this.press('r');
        return this.fill({ roll: body.roll, counter: web });
      case 'roll':
        await this.press('u');
        return this.fill({ length: body.length_m === null ? '' : String(body.length_m), counter: web });
      case 'stop':
      case 'start':
        await this.press('x');
        return this.fill({ what: body.type, counter: web });
      case 'wash':
        await this.press('w');
        return this.fill({ station: body.station, counter: web });
      case 'note':
        await this.press('n');
        return this.fill({ text: body.text });
      case 'end':
        await this.press('e');
        return this.fill({ counter: web });
      case 'correction':
        await this.press('k');
        return this.fill({
          station: body.station,
          axis: body.axis,
          turn: body.move_mm > 0 ? '1' : '-1',
          ...(body.axis === 'along' ? { teeth: '' } : {}),
          divisions: '',
          size: String(Math.abs(body.move_mm)),
          counter: web,
        });
      default:
        throw new Error(`no keys for ${body.type}`);
    }
  }

  #field(): { readonly name: string; readonly text: string; readonly choices?: unknown } | undefined {
    const { mode } = this.#session.screen();
    return mode.kind === 'form' ? mode.form.fields[mode.form.at] : undefined;
  }

  #draft(): { readonly message: string | null } | undefined {
    const { mode, drafts } = this.#session.screen();
    return mode.kind === 'grid' ? drafts[mode.check] : undefined;
  }
}

describe('a whole shift by keys only', () => {
  it('finds what the same facts find when put in directly, and every reading is in the log as it was read', async () => {
    const { first, facts } = demo();
    let now_ms = facts[0]?.at_ms ?? 0;
    const direct = await open(first, () => now_ms);
    const directFound: Finding[] = [];
    direct.onRecord((_record, found) => directFound.push(...found));
    for (const { body, at_ms } of facts) {
      now_ms = at_ms;
      const wrote = await direct.submit(body);
      expect(wrote.ok, JSON.stringify(wrote)).toBe(true);
    }

    now_ms = facts[0]?.at_ms ?? 0;
    const runtime = await open(first, () => now_ms);
    const keyedFound: Finding[] = [];
    const log: LogRecord[] = [];
    runtime.onRecord((record, found) => {
      log.push(record);
      keyedFound.push(...found);
    });
    const port: BoardPort = {
      view: runtime.board,
      subscribe: runtime.subscribe,
      chart: runtime.chart,
      submit: (body) => runtime.submit(body),
      doubt: runtime.doubt,
      handover: () => '',
      readOnly: null,
      operator: runtime.operator,
      setOperator: runtime.setOperator,
      now: runtime.now,
      quit: () => undefined,
    };
    const session = createSession(port, { look, mute: true, pageRows: 20, quit: () => undefined, idleClock: () => 0 });
    const operator = new Operator(session, runtime);
    for (const { body, at_ms } of facts) {
      now_ms = at_ms;
      if (body.type !== 'pull') await operator.fact(body);
    }

    const checks = facts.flatMap(({ body }) => (body.type === 'check' ? [body] : []));
    const keyed = log.flatMap((one) => (one.type === 'check' ? [one] : []));
    expect(keyed.length).toBe(checks.length);
    checks.forEach((check, i) => {
      expect(keyed[i]?.web_m).toBeCloseTo(check.web_m, 3);
      for (const read of check.readings) {
        const there = keyed[i]?.readings.find((one) => one.station === read.station);
        expect(there, `check ${check.check} station ${read.station}`).toMatchObject({
          along_mm: read.along_mm,
          across_mm: read.across_mm,
          plate: read.plate,
          flaws: read.flaws,
          labels: read.labels,
          ...(read.flaw_kind === undefined ? {} : flawFields(flawOf(read))),
        });
      }
    });
    expect(story(keyedFound)).toEqual(story(directFound));
    expect(story(keyedFound).length).toBeGreaterThan(5);
    expect(runtime.board().phase).toBe('ended');
    const shift_h = ((facts.at(-1)?.at_ms ?? 0) - (facts[0]?.at_ms ?? 0)) / 3_600_000;
    expect(shift_h).toBeGreaterThan(8);
    await direct.close();
    await runtime.close();
  });
});
