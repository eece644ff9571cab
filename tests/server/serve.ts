/** Owns starting the real server in this process on a data folder of its own, and joining it as devices do. */
import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import request from 'supertest';
import { startServer } from '../../server/app.ts';
import { readSettings } from '../../server/settings.ts';
import type { DeviceClock } from '../../shared/link/device-clock.ts';
import { createLink, type Link } from '../../shared/link/link.ts';
import { newId } from '../../shared/link/new-id.ts';
import { openSocket } from '../../shared/link/socket.ts';
import type { Room } from '../../shared/link/types.ts';
import type { Session } from '../../shared/session/session.ts';
import { deviceAt } from '../../shared/time/units.ts';
import type { Role } from '../../shared/wire/messages/join.ts';
import { earlierStart, insideCookie } from '../inside.ts';

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'hallclock-test-'));

/** Asks as a browser that is in at the desk. */
export const inside = (url: string) => request.agent(url).set('Cookie', insideCookie);

export async function serve(data: string, env: Record<string, string> = {}, { firstStart = false } = {}) {
  if (!firstStart && existsSync(data)) earlierStart(data);
  const settings = readSettings({ HALLCLOCK_DATA: data, HALLCLOCK_PORT: '0', HALLCLOCK_HOST: '127.0.0.1', HALLCLOCK_TIME_ZONE: 'UTC', ...env });
  if ('wrong' in settings) throw new Error(settings.wrong.join(' '));
  const warnings: string[] = [];
  const running = await startServer(settings, {
    version: 'test',
    log: { warn: (sentence) => { warnings.push(sentence); }, info: () => {} },
    lost: (sentence) => { warnings.push(sentence); },
    pages: () => {},
  });
  return { ...running, url: `http://127.0.0.1:${running.port}`, warnings };
}

export const nodeClock: DeviceClock = {
  now: () => deviceAt(performance.now()),
  wallMs: () => Date.now(),
  afterMs: (ms, run) => {
    const handle = setTimeout(run, ms);
    return () => clearTimeout(handle);
  },
};

export interface Device {
  readonly link: Link;
  readonly room: () => Room;
  /** Waits until the room is as asked; fails after a while. */
  readonly until: (is: (room: Room) => boolean, what: string) => Promise<Room>;
  readonly close: () => void;
}

export function device(url: string, role: Role, cookie?: string, room = 'garden'): Device {
  const link = createLink({
    role, room, clock: nodeClock, newId,
    open: openSocket({ url, ...(cookie === undefined ? {} : { headers: { cookie } }) }),
  });
  const close = link.subscribe(() => {});
  return {
    link,
    room: link.room,
    close,
    until: (is, what) => new Promise((resolve, reject) => {
      const limit = setTimeout(() => { end(); reject(new Error(`${what} did not come; the link is ${JSON.stringify(link.room().link)}`)); }, 30_000);
      const look = () => {
        if (!is(link.room())) return;
        end();
        resolve(link.room());
      };
      const off = link.subscribe(look);
      // The first sample of the clock is told to nobody.
      const again = setInterval(look, 50);
      const end = () => {
        clearTimeout(limit);
        clearInterval(again);
        off();
      };
      look();
    }),
  };
}

/** The class as a device holds it; a test that asks for it knows that there is one. */
export function sessionOf(device: Pick<Device, 'room'>): Session {
  const { session } = device.room();
  if (!session) throw new Error('no class here');
  return session;
}

export const live = (room: Room): boolean => room.link.state === 'live' && room.now() !== null;

/** Pairs as a phone does, with the code that a screen shows; gives the cookie. */
export async function pair(url: string, screen: Device): Promise<string> {
  const shown = await screen.until((r) => Boolean(r.about?.pairing), 'a pairing code');
  const answer = await fetch(`${url}/api/pair`, {
    method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code: shown.about?.pairing?.code }),
  });
  if (!answer.ok) throw new Error(`pairing failed: ${await answer.text()}`);
  return (answer.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
}
