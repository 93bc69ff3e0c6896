import { describe, expect, it } from 'vitest';
import { handoverHtml } from '../../src/report/handover-html.js';
import { handoverJson } from '../../src/report/handover-json.js';
import { handoverText } from '../../src/report/handover-text.js';
import { holdTagsText } from '../../src/report/hold-tags-html.js';
import { holdsText } from '../../src/report/holds-list.js';
import { runReportText } from '../../src/report/run-report.js';
import { eightColourShift, type Shift } from '../support/eight-colour.js';
import { told } from '../support/told.js';

/** Pages of a press whose counter stood at 9 400 m at OK: 4 grey goes out after counter 13 400 and is turned at 16 420. */
const shift = (length: 'm' | 'ft' = 'm'): Shift => {
  const it = eightColourShift(length);
  for (let counter = 10_400; counter <= 13_400; counter += 1000) {
    it.to(counter);
    it.check();
    if (counter === 11_400 || counter === 13_400) it.roll();
  }
  it.truth.along['4'] = 0.25;
  for (const counter of [14_400, 15_400, 16_400]) {
    it.to(counter);
    it.check({ plates: { '5': { grade: counter === 16_400 ? 'dirty' : 'clean' } } });
  }
  it.roll();
  it.to(16_420);
  it.turn('4', 'along', -5);
  it.run.put({ type: 'wash', station: '5', web_m: it.web_m() });
  it.to(16_500);
  it.check({ plates: { '5': { grade: 'clean' } } });
  return it;
};

const pagesOf = (it: Shift): readonly string[] => {
  const view = told(it.run.records);
  return [
    handoverText(view, 100),
    runReportText(view, 100),
    holdTagsText(view, 100),
    holdsText(view, 100),
    handoverHtml(view).replace(/ style="[^"]*"/g, ''),
  ];
};

/** Every place of the story counted from OK to run: none of them may be told as a place. */
const RUN_METRES = /(?<![\d ])(-60|-45|1 000|2 000|3 000|4 000|5 000|6 000|7 000|7 020|7 100) m\b/;

describe('a page tells places as the press counter showed them', () => {
  const pages = pagesOf(shift());

  it('in the handover, the run report, tags, the list of holds and the charts', () => {
    for (const page of pages) {
      expect(page).toContain('13 400 m');
      // Lengths may be of any size: what was made, and how far from a roll's outside.
      const places = page
        .replace(/Made (since [^:]*)?:? *7 100 m|Made +7 100 m/g, '')
        .replace(/[\d ]+ m to [\d ]+ m from the outside/g, '')
        .split('\n')
        .filter((line) => !/Length|Held +\d|held; with|Longest stretch|noticed|hold +\d|From the outside/.test(line))
        .map((line) => line.replace(/\| +\d[\d ]* m to +\d[\d ]* m +(?=\|)/, ''));
      expect(places.filter((line) => RUN_METRES.test(line))).toEqual([]);
    }
  });

  it('the column headed "Counter" is the counter', () => {
    expect(pages[0]).toMatch(/Counter/);
    expect(pages[0]).toMatch(/16 420 m +│? *4 grey/);
  });

  it('why a roll is held is told whole in the list of holds', () => {
    const list = (pages[3] ?? '').replace(/\s+/g, ' ');
    expect(list).not.toContain('…');
    expect(list).toContain('movement 1');
  });

  it('says once what ties them to the web positions of files, which count from OK to run', () => {
    expect(pages[0]).toContain('what the press counter showed then. OK to run was at 9 400 m');
    expect(JSON.parse(handoverJson(told(shift().run.records))).corrections[0].web_m).toBe(7_020);
  });

  it("in the job's own unit", () => {
    const [handover] = pagesOf(shift('ft'));
    // 16 420 m and 13 400 m ÷ 0.3048.
    expect(handover).toContain('53 871 ft');
    expect(handover).toContain('43 963 ft');
    expect(handover).not.toMatch(/\d m\b(?!\/min)/);
  });

  it('each in the counter that stood then, where it was set anew in the middle', () => {
    const it = shift();
    it.to(17_400);
    it.run.put({ type: 'counter', web_m: it.web_m(), offset_m: it.web_m() });
    it.to(17_900);
    it.turn('6', 'along', 1);
    const [handover, report, tags, , html] = pagesOf(it);
    expect(handover).toMatch(/16 420 m +│? *4 grey/);
    expect(handover).toMatch(/ 500 m +│? *6 cream/);
    expect(report).toContain('13 400 m');
    expect(tags).toContain('13 400 m');
    // The axis of a picture goes on in the old numbers up to there.
    expect(html).toContain('>16 000 m<');
  });
});
