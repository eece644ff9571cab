/**
 * Owns hostile socket messages: right, nearly right, broken, binary, from devices that
 * joined as a screen or a desk or never did. Speaks the frames of Socket.IO protocol 5 and
 * Engine.IO protocol 4 by hand (github.com/socketio/socket.io-protocol), so that they can be wrong.
 */
import { WebSocket } from 'ws';
import { MESSAGES_RATE } from '../../shared/limits.ts';
import { chooseSchema } from '../../shared/wire/messages/choose.ts';
import { commandMessageSchema } from '../../shared/wire/messages/command.ts';
import { joinSchema } from '../../shared/wire/messages/join.ts';
import { soundSaySchema } from '../../shared/wire/messages/sound.ts';
import { tellSchema } from '../../shared/wire/messages/tell.ts';
import { PROTOCOL } from '../../shared/wire/protocol.ts';
import { anything, type Chance } from './chance.ts';
import { jsonOf, nearlyRight, rightOne } from './from-schema.ts';

const schemas = Object.entries({ join: joinSchema, command: commandMessageSchema, choose: chooseSchema, sound: soundSaySchema, tell: tellSchema })
  .map(([name, schema]) => ({ name, json: jsonOf(schema) }));
const otherNames = ['sample', 'news', 'snapshot', 'disconnect', 'connect', 'error', '__proto__', '', 'x'.repeat(500), 'constructor'];
const raw = [
  '', '4', '42', '42[', '42[]', '42{}', '42[null]', '42["join"]', '420["join"', '43', '430[]', '4399999999999999999999["x"]', '45-["a",{"_placeholder":true,"num":9}]',
  '451-["command",{"_placeholder":true,"num":0}]', '40/other,', '41', '44{"message":"x"}', '40{"token":1}', '9', '3', '2probe', 'b4AAAA', '\0', '42["command",1e999]',
];

function frame(chance: Chance, n: number): string | Buffer {
  if (chance.happens(0.05)) return chance.one(raw);
  if (chance.happens(0.03)) return Buffer.from(Array.from({ length: chance.below(64) }, () => chance.below(256)));
  const { name, json } = chance.one(schemas);
  const right = rightOne(json, chance);
  // A screen that reads its room may join and choose nothing else; that this holds is what is tried.
  const message = chance.happens(0.3) ? right : nearlyRight(right, chance);
  const said = chance.happens(0.9) ? name : chance.one(otherNames);
  const parts = chance.happens(0.95) ? [said, message] : [said, ...Array.from({ length: chance.below(4) }, () => anything(chance))];
  return `42${chance.happens(0.7) ? n : ''}${JSON.stringify(parts)}`;
}

/** One device's life: comes, says up to as much as it may, goes. Resolves with how many messages it sent. */
function life(url: string, chance: Chance, most: number): Promise<number> {
  return new Promise((resolve) => {
    const socket = new WebSocket(`${url.replace('http', 'ws')}/socket.io/?EIO=4&transport=websocket`);
    let sent = 0;
    const done = () => { resolve(sent); socket.terminate(); };
    const limit = setTimeout(done, 5_000);
    socket.on('error', () => {});
    socket.on('close', () => { clearTimeout(limit); resolve(sent); });
    socket.once('open', () => {
      socket.send('40');
      if (chance.happens(0.8)) {
        socket.send(`421${JSON.stringify(['join', { protocol: PROTOCOL, role: chance.one(['screen', 'desk', 'phone']), room: 'garden' }])}`);
      }
      for (; sent < most; sent += 1) socket.send(frame(chance, sent));
      // What was sent is handled before this is answered, or the server has hung up.
      socket.once('message', () => {
        const wait = () => (socket.bufferedAmount > 0 ? setTimeout(wait, 5) : setTimeout(() => { clearTimeout(limit); done(); }, 20));
        wait();
      });
    });
  });
}

/** @param count messages to send, over as many devices as that takes, eight at once */
export async function fuzzSockets(url: string, chance: Chance, count: number): Promise<{ sent: number; devices: number }> {
  let [sent, devices] = [0, 0];
  const line = async () => {
    while (sent < count) {
      devices += 1;
      sent += await life(url, chance, MESSAGES_RATE.burst - 20);
    }
  };
  await Promise.all(Array.from({ length: 8 }, line));
  return { sent, devices };
}
