import { describe, expect, it } from 'vitest';
import { readDrafts } from '../../src/ui/check/read-drafts.js';
import { sitDown } from './desk.js';
import { drifting, quiet } from './fixtures.js';

describe('long texts', () => {
  it('a note is taken to its last character, its end is seen while it is typed, and a full field says so', async () => {
    const desk = sitDown(quiet());
    const words = Array.from({ length: 60 }, (_, i) => `word${String(i).padStart(2, '0')}`).join(' ');
    await desk.keys(`n${words}`);
    expect(desk.see()).toContain('word58 word59');
    await desk.keys('X'.repeat(62));
    expect(desk.see()).toContain('This field holds 480 characters and is full');
    await desk.keys('[enter]');
    expect(desk.port.submitted).toMatchObject([{ type: 'note', text: `${words}${'X'.repeat(61)}` }]);
  });

  it('a note beside a check too', async () => {
    const desk = sitDown(quiet());
    await desk.keys(`c5An${'abcdefgh '.repeat(60)}`);
    expect(desk.see()).toContain('This field holds 480 characters and is full');
    await desk.keys('[backspace]Z');
    expect(desk.see()).toMatch(/note: <.*abZ/);
  });
});

describe('a terminal too small to show the board', () => {
  it('no key acts but q and Ctrl-C', async () => {
    const desk = sitDown(quiet());
    desk.session.resize(8, false);
    await desk.keys('x[enter]e[enter]pc5A[enter]nabc[enter]z[enter]');
    expect(desk.port.submitted).toEqual([]);
    expect(desk.session.screen().mode.kind).toBe('board');
    expect(desk.see(40, 12)).toContain('no key acts');
    desk.session.resize(20, true);
    await desk.keys('p');
    expect(desk.port.submitted).toMatchObject([{ type: 'pull' }]);
    desk.session.resize(8, false);
    await desk.keys('q[enter]');
    expect(desk.port.left).toEqual([0]);
  });

  it('what is half-keyed stays as it is, and Ctrl-C twice leaves', async () => {
    const desk = sitDown(quiet());
    await desk.keys('nabc');
    desk.session.resize(8, false);
    await desk.keys('def[enter]');
    desk.session.resize(20, true);
    await desk.keys('g[enter]');
    expect(desk.port.submitted).toMatchObject([{ type: 'note', text: 'abcg' }]);
    await desk.keys('nxyz');
    desk.session.resize(8, false);
    await desk.keys('[ctrl-c][ctrl-c]');
    expect(desk.port.left).toEqual([130]);
  });
});

describe('pasted text', () => {
  it('on the board is dropped and said', async () => {
    const desk = sitDown(quiet());
    desk.session.paste('x\ne\ny\nKeep the press running, says the mail.\n');
    await desk.session.settled();
    expect(desk.port.submitted).toEqual([]);
    expect(desk.session.screen().mode.kind).toBe('board');
    expect(desk.see()).toContain('Pasted text (45 characters) was dropped');
  });

  it('in a field fills it without Enter; a line end becomes a blank', async () => {
    const desk = sitDown(quiet());
    await desk.keys('n');
    desk.session.paste('two lines\r\nof a mail\r');
    expect(desk.see()).toContain('two lines of a mail');
    expect(desk.port.submitted).toEqual([]);
    await desk.keys('[enter]');
    expect(desk.port.submitted).toMatchObject([{ type: 'note', text: 'two lines of a mail' }]);
  });

  it('in the check grid one reading is taken; anything else is no key there', async () => {
    const desk = sitDown(quiet());
    await desk.keys('c');
    desk.session.paste('5A\n');
    expect(desk.see()).toContain('0.05 AHEAD');
    desk.session.paste('looked, all in');
    expect(desk.see()).toContain('Pasted text (14 characters) was dropped');
    expect(Object.values(desk.session.screen().drafts)[0]?.rows).toMatchObject({});
    expect(JSON.stringify(desk.session.screen().drafts)).not.toContain('"in"');
  });
});

const draftText = async (): Promise<string> => {
  const desk = sitDown(drifting());
  await desk.keys('c5A[enter]');
  return JSON.stringify(desk.session.screen().drafts);
};

describe('half-keyed checks of another version', () => {
  it('what this program writes is understood', async () => {
    const read = readDrafts(await draftText());
    expect(read.odd).toBe(false);
    expect(Object.keys(read.drafts)).toHaveLength(1);
  });

  it('any value of another kind anywhere in it is set aside and said, and the board opens', async () => {
    const text = await draftText();
    const [name = ''] = Object.keys(JSON.parse(text));
    const draft: Record<string, unknown> = JSON.parse(text)[name];
    for (const key of Object.keys(draft))
      for (const other of [null, 7, 'x', [], {}, [{}], true]) {
        const put = JSON.stringify({ [name]: { ...draft, [key]: other } });
        const aside: string[] = [];
        const desk = sitDown(drifting(), {
          drafts: {
            load: () => put,
            save: () => undefined,
            setAside: () => {
              aside.push(put);
              return 'drafts.json.aside-1';
            },
          },
        });
        expect(desk.see()).toContain('plum jam lid');
        await desk.keys('c');
        expect(desk.see()).toContain('plum jam lid');
        await desk.keys('[enter][enter][esc]');
        expect(desk.see()).toContain('plum jam lid');
        if (!readDrafts(put).odd) continue;
        expect(aside).toEqual([put]);
      }
  });
});
