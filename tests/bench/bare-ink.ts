import '../ui/before-react.js';

/** The least a program can do with a key in this terminal library: echo it. The board's time from key to screen is measured against it. */
const { render, Text, useInput } = await import('ink');
const { createElement, useState } = await import('react');

function Echo() {
  const [n, setN] = useState(0);
  useInput(() => setN((before) => before + 1));
  return createElement(Text, null, `echo ${n % 2 === 0 ? 'along' : 'across'}`);
}

render(createElement(Echo), { alternateScreen: true, incrementalRendering: true, exitOnCtrlC: false, maxFps: 60 });
