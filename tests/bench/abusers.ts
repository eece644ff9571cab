/**
 * Owns those who abuse a studio, as a process of its own beside the bench (abuse.ts): a roomful of idle
 * connections, some that come and go, one that never reads, one that never stops sending. Each
 * has addresses of its own (127.0.x.y), as other devices have. Ends by itself.
 */
import { WebSocket } from 'ws';
import { PROTOCOL } from '../../shared/wire/protocol.ts';

const url = `${(process.argv[2] ?? '').replace('http', 'ws')}/socket.io/?EIO=4&transport=websocket`;
const room = process.argv[3] ?? 'r0';
const MOST_MS = 50_000;
const IDLE = 500;
const IDLE_PER_ADDRESS = 50;
const COMES_A_SECOND = 200;
const COMMANDS_A_SECOND = 10_000;
const ASKS_A_SECOND = 100;
/** Every so often what is due by now is done; on a busy machine more at once, and never more than a tenth of a second's. */
const TURN_MS = 10;

export interface Done { idle: number; came: number; letIn: number; commands: number; cutOff: number; asked: number }
const done: Done = { idle: 0, came: 0, letIn: 0, commands: 0, cutOff: 0, asked: 0 };
setTimeout(() => process.exit(1), MOST_MS).unref();

const open = (localAddress: string): WebSocket => {
  // A page that never reads, and one that is refused, fail in many ways; none of them is this process's end.
  const socket = new WebSocket(url, { localAddress, perMessageDeflate: false });
  socket.on('error', () => {});
  return socket;
};
const join = `421${JSON.stringify(['join', { protocol: PROTOCOL, role: 'screen', room }])}`;

/** A screen of the room, as anybody in the Wi-Fi may open one: it hears everything and says nothing. */
const sitIdle = (n: number) => new Promise<void>((resolve) => {
  const socket = open(`127.0.1.${1 + Math.floor(n / IDLE_PER_ADDRESS)}`);
  socket.on('message', (data) => {
    const text = String(data);
    if (text === '2') socket.send('3');
    else if (text.startsWith('0')) socket.send('40');
    else if (text.startsWith('40')) socket.send(join);
    else if (text.startsWith('431')) {
      done.idle += 1;
      resolve();
    }
  });
  socket.on('close', () => resolve());
});

function comeAndGo(): void {
  const n = done.came;
  done.came += 1;
  const socket = open(`127.0.2.${1 + (n % 4)}`);
  socket.on('open', () => {
    done.letIn += 1;
    socket.terminate();
  });
}

/** Asks for the whole class again and again, and reads nothing of it. */
function neverRead(): () => void {
  let socket = open('127.0.3.1');
  const start = () => {
    socket.on('open', () => {
      socket.send('40');
      (socket as unknown as { _socket: { pause: () => void } })._socket.pause();
    });
    socket.on('close', () => {
      done.cutOff += 1;
      setTimeout(() => { socket = open('127.0.3.1'); start(); }, 100);
    });
  };
  start();
  return () => {
    if (socket.readyState !== WebSocket.OPEN) return;
    done.asked += 1;
    socket.send(join.replace('421', `42${done.asked}`));
  };
}

function neverStop(): () => void {
  let socket = open('127.0.4.1');
  const start = () => {
    socket.on('open', () => { socket.send('40'); socket.send(join); });
    socket.on('close', () => {
      done.cutOff += 1;
      setTimeout(() => { socket = open('127.0.4.1'); start(); }, 10);
    });
  };
  start();
  const command = { id: crypto.randomUUID(), session: null, saidAt: null, command: { type: 'head-count', n: 3 } };
  const frame = `427${JSON.stringify(['command', command])}`;
  return () => {
    if (socket.readyState !== WebSocket.OPEN) return;
    socket.send(frame);
    done.commands += 1;
  };
}

/** Does a thing so many times a second, by the clock. */
function often(aSecond: number, act: () => void): void {
  let at = performance.now();
  setInterval(() => {
    const now = performance.now();
    const due = Math.min(aSecond / 10, Math.floor(((now - at) * aSecond) / 1_000));
    at = due === aSecond / 10 ? now : at + (due * 1_000) / aSecond;
    for (let n = 0; n < due; n += 1) act();
  }, TURN_MS);
}

await Promise.all(Array.from({ length: IDLE }, (_, n) => sitIdle(n)));
process.send?.('in');
process.once('message', () => {
  often(ASKS_A_SECOND, neverRead());
  often(COMMANDS_A_SECOND, neverStop());
  often(COMES_A_SECOND, comeAndGo);
  process.once('message', () => process.send?.(done, () => process.exit(0)));
});
process.on('disconnect', () => process.exit(0));
