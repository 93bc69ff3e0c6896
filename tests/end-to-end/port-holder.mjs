// Holds a pseudo-terminal in a process of its own, so that killing it is pulling the cable: no other process keeps its far end open.
import { spawn } from '@lydell/node-pty';

const pty = spawn('sh', ['-c', 'stty raw -echo; tty; exec sleep 1000'], { encoding: 'latin1' });
let said = '';
pty.onData((text) => {
  said += text;
  const line = /^(\/dev\/\S+)[\r\n]+/.exec(said);
  if (line !== null) {
    process.stdout.write(`${line[1]}\n`);
    said = ' ';
  }
});
process.stdin.on('data', (chunk) => pty.write(chunk.toString('latin1')));
process.stdin.on('end', () => process.exit(0));
