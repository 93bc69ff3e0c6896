import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { RecordBody } from '../../src/core/record.js';
import { checkCheckpoint } from '../../src/runtime/check-checkpoint.js';
import { openState } from '../../src/runtime/open-state.js';
import type { Runtime } from '../../src/runtime.js';
import { checkpointFile, readCheckpoint, writeCheckpoint } from '../../src/store/checkpoint.js';
import { type Disk, realDisk } from '../../src/store/disk.js';
import { programMark } from '../../src/store/program-mark.js';
import { seeded } from '../support/seeded.js';
import { foldFromScratch, recordsIn } from './ledger.js';
import { checkBody, newFolder, openTestRun } from './open-test-run.js';

const thrown = (code: string): Error => Object.assign(new Error(code), { code });
const note = (text: string): RecordBody => ({ type: 'note', web_m: null, text });

/** A disk whose next writes or syncs fail, or whose syncs wait until they are let go. */
const faultyDisk = () => {
  const state = { write: '', sync: '', held: null as (() => void)[] | null, syncs: 0 };
  const disk: Disk = {
    ...realDisk,
    write: (fd, bytes, from) => {
      if (state.write !== '') throw thrown(state.write);
      return realDisk.write(fd, bytes, from);
    },
    sync: (fd, done) => {
      state.syncs += 1;
      const go = (): void =>
        state.sync === '' ? realDisk.sync(fd, done) : void setImmediate(done, thrown(state.sync));
      if (state.held === null) go();
      else state.held.push(go);
    },
  };
  return { state, disk };
};

/** Of a whole state, so that a difference does not fill the screen. */
const fingerprint = (state: unknown): string => createHash('sha256').update(JSON.stringify(state)).digest('hex');

const until = async (holds: () => boolean): Promise<void> => {
  while (!holds()) await new Promise((next) => setTimeout(next, 5));
};

describe('a run while its disk fails', () => {
  it('a keyed entry is refused with why; the sensor’s wait in order with their own times, and are written when it can', async () => {
    const { state, disk } = faultyDisk();
    const folder = newFolder();
    let time = 1_772_000_000_000;
    const run = await openTestRun(folder, { disk, now: () => (time += 1000) });
    state.write = 'ENOSPC';
    const keyed = await run.submit(note('keyed'));
    expect(keyed.ok ? '' : keyed.problem.message).toMatch(/the disk is full; free some space/);
    expect(run.trouble()).toMatch(/^LAST ENTRY NOT SAVED, \d\d:\d\d: the disk is full/);
    const made: string[] = [];
    for (let i = 0; i < 5; i += 1) {
      await run.submit((s) => checkBody(s.next_check, i, seeded(i), 'sensor'), {
        by: 'sensor',
        soon: true,
        keep: true,
      });
      made.push(new Date(time).toISOString());
    }
    expect(run.trouble()).toBe('NOT SAVED, 5 sensor entries wait: the disk is full; free some space');
    expect(run.board().trouble).toBe(run.trouble());
    expect((await run.submit(note('keyed'))).ok).toBe(false);
    expect(run.state().judged.checks.made).toBe(0);
    state.write = '';
    expect((await run.submit(note('keyed'))).ok).toBe(true);
    expect(run.trouble()).toBeNull();
    expect(await run.close()).toBe(0);
    const written = recordsIn(folder).slice(2);
    expect(written.map((r) => (r.type === 'check' ? r.check : r.type))).toEqual([1, 2, 3, 4, 5, 'note']);
    expect(written.slice(0, 5).map((r) => r.at)).toEqual(made);
  });

  it('is tried again by itself, without any key', async () => {
    const { state, disk } = faultyDisk();
    const folder = newFolder();
    const run = await openTestRun(folder, { disk });
    state.sync = 'EIO';
    await run.submit((s) => checkBody(s.next_check, 0, seeded(1), 'sensor'), { by: 'sensor', soon: true, keep: true });
    expect(run.trouble()).toMatch(/^NOT SAVED, 1 sensor entry waits: the disk reported an error/);
    state.sync = '';
    await until(() => run.trouble() === null);
    expect(run.state().judged.checks.made).toBe(1);
    await run.close();
    expect(recordsIn(folder)).toHaveLength(3);
  });

  it('what the disk never took is counted on leaving', async () => {
    const { state, disk } = faultyDisk();
    const run = await openTestRun(newFolder(), { disk });
    state.write = 'EROFS';
    for (let i = 0; i < 3; i += 1)
      await run.submit((s) => checkBody(s.next_check, i, seeded(i), 'sensor'), {
        by: 'sensor',
        soon: true,
        keep: true,
      });
    expect(await run.close()).toBe(3);
  });

  it('slow: nothing is shown before it is on disk, the board says what it waits for, and entries share the sync', async () => {
    const { state, disk } = faultyDisk();
    const folder = newFolder();
    const run = await openTestRun(folder, { disk });
    state.held = [];
    state.syncs = 0;
    const seen: number[] = [];
    run.onRecord((r) => seen.push(r.seq));
    const all = Array.from({ length: 40 }, () =>
      run.submit((s) => checkBody(s.next_check, 0, seeded(2), 'sensor'), { by: 'sensor', soon: true, keep: true }),
    );
    const keyed = run.submit(note('keyed'));
    await until(() => run.trouble() !== null);
    expect(run.trouble()).toMatch(/^NOT SAVED YET: the disk has been writing for \d+ s$/);
    expect(seen).toEqual([]);
    expect(run.state().judged.checks.made).toBe(0);
    const held = state.held;
    state.held = null;
    for (const go of held) go();
    expect((await Promise.all([...all, keyed])).every((r) => r.ok)).toBe(true);
    expect(seen).toEqual(Array.from({ length: 41 }, (_, i) => i + 3));
    expect(state.syncs).toBeLessThan(5);
    await run.close();
    expect(fingerprint(run.state())).toBe(fingerprint(foldFromScratch(folder)));
  });

  it('fails in the middle of many entries under way: those before are there, those after are written later, numbers without a gap', async () => {
    for (const seed of [1, 2, 3, 4, 5, 6, 7, 8]) {
      const random = seeded(seed);
      const { state, disk } = faultyDisk();
      const folder = newFolder();
      const run = await openTestRun(folder, { disk });
      const all: Promise<unknown>[] = [];
      for (let i = 0; i < 60; i += 1) {
        const dice = random.uniform();
        state.write = dice < 0.15 ? 'ENOSPC' : '';
        state.sync = dice > 0.85 ? 'EIO' : '';
        all.push(
          run.submit((s) => checkBody(s.next_check, i, seeded(i), 'sensor'), { by: 'sensor', soon: true, keep: true }),
        );
        if (random.uniform() < 0.5) await new Promise((next) => setTimeout(next, random.uniform() * 20));
      }
      await Promise.all(all);
      state.write = '';
      state.sync = '';
      expect(await run.close()).toBe(0);
      const checks = recordsIn(folder).flatMap((r) => (r.type === 'check' ? [r.check] : []));
      expect(checks).toEqual(Array.from({ length: 60 }, (_, i) => i + 1));
      expect(fingerprint(run.state())).toBe(fingerprint(foldFromScratch(folder)));
    }
  });
});

const filled = async (folder: string, checks: number, seed = 3): Promise<Runtime> => {
  const run = await openTestRun(folder);
  const random = seeded(seed);
  const all: Promise<unknown>[] = [];
  for (let n = 1; n <= checks; n += 1)
    all.push(run.submit((s) => checkBody(s.next_check, n * 100, random), { soon: true }));
  await Promise.all(all);
  return run;
};

describe('a checkpoint', () => {
  it('gives the state of a fold from scratch; a wrong one is found, said, thrown away, and the log believed', async () => {
    const folder = newFolder();
    const run = await filled(folder, 600);
    await run.close();
    const file = checkpointFile(folder);
    const whole = readFileSync(file);
    const scratch = fingerprint(foldFromScratch(folder));
    const opened = openState(folder, 'look');
    if (!opened.ok) throw new Error(opened.problem.message);
    expect(opened.value.chain?.place.seq).toBe(602);
    expect(fingerprint(opened.value.state)).toBe(scratch);
    const random = seeded(9);
    for (let i = 0; i < 12; i += 1) {
      const changed = Buffer.from(whole);
      const at = Math.floor(random.uniform() * changed.length);
      changed[at] = (changed[at] ?? 0) ^ (1 << Math.floor(random.uniform() * 8));
      writeFileSync(file, i % 3 === 0 ? whole.subarray(0, at) : changed);
      const again = openState(folder, 'look');
      if (!again.ok) throw new Error(again.problem.message);
      expect(again.value.chain).toBeNull();
      expect(again.value.said).toMatch(/checkpoint\.json .*thrown away and the run worked out of its log/);
      expect(fingerprint(again.value.state)).toBe(scratch);
    }
  }, 120_000);

  it('of another run, or of a log that was cut or changed since, is not believed', async () => {
    const [folder, other] = [newFolder(), newFolder()];
    await (await filled(folder, 600, 3)).close();
    await (await filled(other, 600, 4)).close();
    const log = join(folder, 'log-0001.ndjson');
    const own = readFileSync(checkpointFile(folder));
    writeFileSync(checkpointFile(folder), readFileSync(checkpointFile(other)));
    const strange = openState(folder, 'look');
    expect(strange.ok && strange.value.said).toMatch(/does not fit the log/);
    writeFileSync(checkpointFile(folder), own);
    const text = readFileSync(log);
    const cut = text.lastIndexOf(10, text.length - 2) + 1;
    writeFileSync(log, text.subarray(0, cut));
    const shorter = openState(folder, 'look');
    expect(shorter.ok && shorter.value.said).toMatch(/does not fit the log/);
    expect(shorter.ok && shorter.value.state?.seq).toBe(601);
    const changed = Buffer.from(text);
    changed[5000] = (changed[5000] ?? 0) ^ 1;
    writeFileSync(log, changed);
    const damaged = openState(folder, 'look');
    expect(damaged.ok ? '' : damaged.problem.message).toMatch(/line \d+ \(byte \d+\)/);
  }, 60_000);
});

describe('numbers of checks', () => {
  it('a pull stamped with the number that a sensor’s check took meanwhile gets the next one', async () => {
    const folder = newFolder();
    const run = await openTestRun(folder);
    const next = run.board().next_check_id;
    const sensed = run.submit((s) => checkBody(s.next_check, 100, seeded(1), 'sensor'), { by: 'sensor', soon: true });
    const pulled = await run.submit({
      type: 'pull',
      check: next,
      web_m: 100,
      roll: null,
      counter: 'keyed',
      place: null,
    });
    expect((await sensed).ok && pulled.ok).toBe(true);
    expect(pulled.ok && pulled.value.type === 'pull' && pulled.value.check).toBe(Number(next) + 1);
    await run.close();
    expect(recordsIn(folder).flatMap((r) => (r.type === 'check' || r.type === 'pull' ? [r.check] : []))).toEqual([
      1, 2,
    ]);
  });
});

describe('verify', () => {
  it('judges the log anew and holds the checkpoint’s state against it: one that fits the bytes and tells another story is found', async () => {
    const folder = newFolder();
    await (await filled(folder, 520)).close();
    const said = checkCheckpoint(folder);
    expect(said.ok && said.value).toBe('its checkpoint at entry 522 is right');
    const found = readCheckpoint(folder, programMark());
    if (!found.ok || found.value === null) throw new Error('no checkpoint');
    const { state, chain } = found.value;
    const forged = { ...state, judged: { ...state.judged, checks: { ...state.judged.checks, made: 1 } } };
    writeCheckpoint(folder, programMark(), { chain, state: forged });
    const again = checkCheckpoint(folder);
    expect(again.ok && again.value).toBe(
      'its checkpoint at entry 522 was wrong and was thrown away; the log is the truth',
    );
    expect(existsSync(checkpointFile(folder))).toBe(false);
  }, 60_000);
});

describe('taken back', () => {
  it('a check older than the state remembers is judged anew from the log, live and on opening alike', async () => {
    const folder = newFolder();
    const run = await openTestRun(folder);
    const random = seeded(5);
    const all: Promise<unknown>[] = [];
    for (let n = 1; n <= 620; n += 1)
      all.push(run.submit(checkBody(n, n * 100, random, 'keyed', n === 20 ? 0.4 : 0), { soon: true }));
    await Promise.all(all);
    expect(run.state().recent.records.some((r) => r.type === 'check' && r.check === 20)).toBe(false);
    const sums = (): number | undefined => run.state().judged.sums['2']?.along.n;
    expect(run.state().judged.checks.made).toBe(620);
    const before = sums() ?? 0;
    const taken = await run.submit({ type: 'withdraw', check: 20, entry: null, web_m: null });
    // Of a check that old only the acts remember that it was; one they do not know any more is refused.
    if (!taken.ok) {
      expect(taken.problem.message).toMatch(/There is no check 20 to take back/);
      const later = await run.submit({ type: 'withdraw', check: 320, entry: null, web_m: null });
      expect(later.ok).toBe(true);
    }
    expect(run.state().judged.checks.made).toBe(619);
    expect(sums()).toBe(before - 1);
    await run.close();
    expect(fingerprint(run.state())).toBe(fingerprint(foldFromScratch(folder)));
  }, 120_000);
});

describe('the clock', () => {
  it('set back an hour, forward a day, a step of the time service: the web does not jump, entries keep their order, the log says so', async () => {
    const folder = newFolder();
    let wall = Date.parse('2026-10-25T00:30:00Z');
    let steady = 0;
    const pass = (ms: number): void => {
      wall += ms;
      steady += ms;
    };
    const run = await openTestRun(folder, { now: () => wall, steady: () => steady });
    await run.submit({ type: 'speed', web_m: 0, m_per_min: 100 });
    const here = (): number => run.board().position.web_m ?? -1;
    pass(60_000);
    expect(here()).toBeCloseTo(100, 6);
    for (const by of [-3_600_000, 86_400_000, -500, 1500, 4000]) {
      const before = here();
      wall += by;
      await run.submit(note(`after ${by}`));
      if (Math.abs(by) > 2000) expect(here()).toBeCloseTo(before, 6);
      pass(60_000);
      if (Math.abs(by) > 2000) expect(here()).toBeCloseTo(before + 100, 6);
    }
    await run.close();
    const records = recordsIn(folder);
    expect(records.map((r) => r.seq)).toEqual(records.map((_, i) => i + 1));
    expect(records.flatMap((r) => (r.type === 'note' && r.by === 'program' ? [r.text] : []))).toEqual([
      "The computer's clock was set back by 60 min, to 23:31. Entries stand in the order they were made; read the counter again.",
      expect.stringContaining('set forward by 24 h 0 min'),
      expect.stringContaining('set forward by 4 s'),
    ]);
    const told = run.handover(null);
    expect(told.ok && JSON.stringify(told.value)).toContain('clock was set back by 60 min');
  });

  it('set back while the program was closed is told on opening, once', async () => {
    const folder = newFolder();
    let wall = Date.parse('2026-03-29T00:59:00Z');
    const clocks = { now: () => wall, steady: () => 0 };
    const run = await openTestRun(folder, clocks);
    await run.submit({ type: 'speed', web_m: 0, m_per_min: 100 });
    await run.close();
    wall -= 3_600_000;
    for (let time = 0; time < 2; time += 1) {
      const again = await openTestRun(folder, clocks);
      expect(again.board().position.web_m).toBeCloseTo(0, 6);
      await again.close();
    }
    expect(recordsIn(folder).filter((r) => r.type === 'note')).toHaveLength(1);
  });
});
