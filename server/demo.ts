/**
 * Owns the class that runs by itself, for showing: it pairs as a phone does and
 * presses what an instructor would press. Knows the server only through its door.
 */
import { io, type Socket } from 'socket.io-client';
import type { RunningCommand } from '../shared/session/command.ts';
import { evolve, replay } from '../shared/session/evolve.ts';
import type { Session } from '../shared/session/session.ts';
import { serverAt } from '../shared/time/units.ts';
import { controls, TEN_MS } from '../shared/view/controls.ts';
import { view } from '../shared/view/view.ts';
import type { PlansBody } from '../shared/wire/http.ts';
import type { CommandMessage } from '../shared/wire/messages/command.ts';
import type { Role } from '../shared/wire/messages/join.ts';
import type { Snapshot } from '../shared/wire/messages/snapshot.ts';
import { PROTOCOL } from '../shared/wire/protocol.ts';
import type { ToDevice } from '../shared/wire/to-device.ts';
import type { ToServer } from '../shared/wire/to-server.ts';

const url = process.argv[2] ?? 'http://localhost:8080';
const room = process.argv[3] ?? 'garden';
/** How long the instructor talks or shows before saying go, and looks away between two glances. */
const GO_AFTER_MS = 6_000;
const LOOK_MS = 500;
const PAUSE_MS = 8_000;
const AFTERWARDS_MS = 20_000;

type Door = Socket<ToDevice, ToServer>;
const waitMs = (ms: number) => new Promise((resolve) => { setTimeout(resolve, ms); });

function open(role: Role, cookie?: string): Promise<{ door: Door; snapshot: Snapshot }> {
  const door: Door = io(url, { transports: ['websocket'], forceNew: true, ...(cookie === undefined ? {} : { extraHeaders: { cookie } }) });
  return new Promise((resolve, reject) => {
    door.once('connect', () => {
      door.emit('join', { protocol: PROTOCOL, role, room }, (reply) => {
        if ('snapshot' in reply) resolve({ door, snapshot: reply.snapshot });
        else reject(new Error(reply.refused.sentence));
      });
    });
  });
}

async function pair(): Promise<string> {
  const { door, snapshot } = await open('screen');
  door.disconnect();
  const answer = await fetch(`${url}/api/pair`, {
    method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code: snapshot.pairing?.code }),
  });
  if (!answer.ok) throw new Error(await answer.text());
  return (answer.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
}

async function main(): Promise<void> {
  const { door, snapshot } = await open('phone', await pair());
  let session: Session | null = snapshot.session && replay(snapshot.session.events);
  door.on('snapshot', (message) => { session = message.session && replay(message.session.events); });
  door.on('news', ({ events }) => { session = events.reduce<Session | null>((s, e) => evolve(e.type === 'started' ? null : s, e), session); });
  const offsetMs = await new Promise<number>((resolve) => {
    door.emit('sample', ({ sentAt }) => resolve(sentAt - performance.now()));
  });
  const now = () => serverAt(Math.floor(performance.now() + offsetMs));
  const say = (command: CommandMessage['command']) => new Promise((resolve) => {
    door.emit('command', { id: crypto.randomUUID(), session: session?.id ?? null, saidAt: now(), command }, resolve);
  });
  const plans = (await (await fetch(`${url}/api/plans`)).json()) as PlansBody;
  const plan = plans.plans.find((p) => p.problem === null && p.id === 'forty-twenty') ?? plans.plans.find((p) => p.problem === null);
  if (!plan) throw new Error('there is no plan that can run');

  for (;;) {
    await say({ type: 'start', plan: plan.id, freeAt: null });
    let paused = false;
    let extended = false;
    for (;;) {
      await waitMs(LOOK_MS);
      if (!session) continue;
      const seen = view(session, now());
      if (seen.over) break;
      const able = controls(session, now());
      const working = seen.phase === 'work' && (seen.seconds ?? 0) > 8 && session.intervals.indexOf(seen.interval ?? session.intervals[0] as never) > 6;
      if (able.big?.type === 'go') {
        await waitMs(GO_AFTER_MS);
        await say(able.big);
      } else if (working && !paused) {
        paused = true;
        await say({ type: 'pause', reason: 'form' });
        await waitMs(PAUSE_MS);
        await say({ type: 'carry-on', pause: 1 });
      } else if (working && !extended && seen.side === null) {
        extended = true;
        await say({ type: 'extend', occurrence: seen.occurrence, byMs: TEN_MS } satisfies RunningCommand);
      }
    }
    await say({ type: 'head-count', n: 9 });
    await waitMs(AFTERWARDS_MS);
  }
}

await main().catch((error: Error) => {
  process.stderr.write(`The demo class could not run: ${error.message}\n`);
  process.exit(1);
});
