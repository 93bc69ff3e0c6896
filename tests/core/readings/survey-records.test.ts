import { describe, expect, test } from 'vitest';
import { surveyRecords } from '../../../src/core/readings/survey-records.js';
import type { RecordBody } from '../../../src/core/record.js';
import { recordBodySchema } from '../../../src/core/record-schema.js';
import { tryRun } from '../../support/try-run.js';

/** Every kind of record there is; the compiler says when one is missing. */
const KINDS: Readonly<Record<Exclude<RecordBody['type'], 'begin'>, true>> = {
  pull: true,
  check: true,
  ok: true,
  correction: true,
  roll: true,
  finished: true,
  wash: true,
  speed: true,
  stop: true,
  start: true,
  plate: true,
  die: true,
  reference: true,
  tolerance: true,
  seen: true,
  'web-set': true,
  withdraw: true,
  counter: true,
  position: true,
  shift: true,
  note: true,
  sensor: true,
  hold: true,
  held: true,
  knob: true,
  end: true,
};

const runLines = (): readonly string[] => {
  const run = tryRun();
  run.check(1, 1_000, { '2': 0.01, '3': 0, '4': 0, D: 0 });
  run.put({ type: 'finished', web_m: 1_500, roll: '1' });
  run.put({ type: 'note', web_m: null, text: '=1+1 "quoted"\n\u202eהיום' });
  run.put({ type: 'withdraw', check: null, entry: 4, web_m: null });
  run.put({ type: 'shift', web_m: 1_600, outgoing: 'MK', incoming: null, note: null });
  run.put({ type: 'end', web_m: 1_700 });
  return run.records.map((record) => JSON.stringify(record));
};

describe('records of a run as NDJSON', () => {
  test('the schema knows every kind of record', () => {
    const known = recordBodySchema.options.map((option) => option.shape.type.value);
    expect(known.toSorted()).toEqual(Object.keys(KINDS).toSorted());
  });

  test('what was exported comes back as it was', () => {
    const lines = runLines();
    const survey = surveyRecords(`${lines.join('\n')}\n`, 'a.ndjson');
    if (!survey.ok) throw new Error(survey.problem.message);
    expect(survey.value.refused).toEqual([]);
    const [run] = survey.value.runs;
    expect(run?.run).toBe('r1');
    expect(run?.records.map(({ body, at, by }) => ({ ...body, at, by }))).toEqual(
      lines.slice(1).map((line) => {
        const { v: _v, seq: _seq, ...rest } = JSON.parse(line);
        return rest;
      }),
    );
  });

  test('every wrong line is told, with why', () => {
    const [begin = '', ok = '', check = '', ...rest] = runLines();
    const wrong = [
      begin,
      ok.replace('"passed_by":"MK"', '"passed_by":7'),
      'not json',
      check.replace('"seq":3', '"seq":9'),
      check.replace('"seq":3', '"seq":5').replace('"along_mm":0.01', '"along_mm":"0.01"'),
      check.replace('"seq":3', '"seq":6').replace('"type":"check"', '"type":"chekc"'),
      check.replace('"seq":3', '"seq":7').replace('"roll":null', '"roll":null,"more":1'),
    ];
    const survey = surveyRecords([...wrong, ...rest.slice(9)].join('\n'), 'a.ndjson');
    if (!survey.ok) throw new Error(survey.problem.message);
    expect(survey.value.refused.map(({ line }) => line)).toEqual([2, 3, 4, 5, 6, 7]);
    expect(survey.value.refused.map(({ why }) => why).join('\n')).toMatch(
      /passed_by[\s\S]*not JSON[\s\S]*entry 9, but entry 4[\s\S]*along_mm[\s\S]*type[\s\S]*more/,
    );
  });

  test('a beginning that is missing, an empty file', () => {
    const survey = surveyRecords(runLines().slice(1).join('\n'), 'a.ndjson');
    expect(survey.ok && survey.value.refused[0]?.why).toMatch(/entry 2, but entry 1/);
    expect(surveyRecords('\n', 'a.ndjson').ok).toBe(false);
  });
});
