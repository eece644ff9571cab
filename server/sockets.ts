/**
 * Owns the server's side of the socket: every message is parsed here, once, and
 * answered. What is known of a connection is kept by connection, never by device.
 * Leaves alone what a command leads to (core).
 */
import { randomUUID } from 'node:crypto';
import type { Server as HttpServer } from 'node:http';
import { Server, type Socket } from 'socket.io';
import { MESSAGE_MOST_BYTES } from '../shared/limits.ts';
import { refusals, refuse } from '../shared/session/refusal.ts';
import { between, serverAt } from '../shared/time/units.ts';
import { chooseSchema } from '../shared/wire/messages/choose.ts';
import { type JoinReply, joinSchema, type Role } from '../shared/wire/messages/join.ts';
import type { Snapshot } from '../shared/wire/messages/snapshot.ts';
import type { Play } from '../shared/wire/messages/sound.ts';
import type { Told } from '../shared/wire/messages/tell.ts';
import { PROTOCOL } from '../shared/wire/protocol.ts';
import type { ToDevice } from '../shared/wire/to-device.ts';
import type { ToServer } from '../shared/wire/to-server.ts';
import type { Found } from './address.ts';
import { type Joined, openCommands } from './commands.ts';
import { nobodyElse, openOthers } from './chain/others.ts';
import type { Redis } from './chain/redis.ts';
import { knownNames } from './door/names.ts';
import { socketDoor } from './door/socket-door.ts';
import { BEAT_MS, beat, SILENT_DROP_MS, SILENT_PING_MS } from './heartbeat.ts';
import { nameIn, tokenIn } from './pairing.ts';
import { openBeside } from './people/beside.ts';
import { openShownCode } from './people/shown-code.ts';
import { monotonicMs } from './real-clock.ts';
import { openSounding } from './sound/sounding.ts';
import { type Hall, pairable, type Studio } from './studio.ts';

type NoServerEvents = Record<string, never>;
type Io = Server<ToServer, ToDevice, NoServerEvents, { joined: Joined | null }>;
type Device = Socket<ToServer, ToDevice, NoServerEvents, { joined: Joined | null }>;

/** Many devices that come at once are told of as one change; in a room with very many, where each is a thousand writes, later. */
const presenceMs = (screens: number): number => (screens > 100 ? 1_000 : 200);
/** A ring or a skip that another server says so late is left out. */
const PLAY_LATE_MS = 1_000;
const groupOf = (room: string, role: Role): string => `${room}/${role}`;
const phoneGroup = (name: string): string => `one phone/${name}`;

/** @param redis the way to devices of other servers, where there is one */
export function openSockets(http: HttpServer, studio: Studio, redis: Redis | null, where: () => Found): { readonly close: () => Promise<void> } {
  const { settings } = studio;
  /** Every device of this server: what it is told from here goes past Redis. */
  const mine = `here/${randomUUID()}`;
  const door = socketDoor(knownNames(settings.names), settings.limitLoopback, studio.log.warn, monotonicMs);
  const io: Io = new Server(http, {
    serveClient: false,
    maxHttpBufferSize: MESSAGE_MOST_BYTES,
    perMessageDeflate: false,
    ...(redis ? { adapter: redis.adapter } : {}),
    pingInterval: SILENT_PING_MS,
    pingTimeout: SILENT_DROP_MS,
    allowRequest: (request, answer) => answer(null, door.allow(request)),
  });
  door.watch(io);
  studio.metrics.connectionsFrom(() => io.engine.clientsCount);
  const stopBeat = beat(io, BEAT_MS);
  const { clock } = studio;
  const soon = new Map<string, NodeJS.Timeout>();
  const renewals = new Map<string, () => void>();
  /** By room: the plan that a phone has laid out. Gone when a class starts, and with the server. */
  const chosen = new Map<string, string>();

  const others = studio.talk ? openOthers(studio.talk, (room) => presenceSoon(room), monotonicMs) : nobodyElse;
  const count = (room: string, role: Role): number => io.sockets.adapter.rooms.get(groupOf(room, role))?.size ?? 0;

  const shown = openShownCode(studio, where);
  const nameOf = (device: Device | null): string | null => nameIn(device?.handshake.headers.cookie);
  const everywhere = (room: string) => others.and(room, { screens: count(room, 'screen'), phones: count(room, 'phone') });
  const presenceOf = (hall: Hall, role: Role) => ({
    present: everywhere(hall.about.id),
    pairing: role === 'screen' ? shown.pairing(hall) : null,
    chosen: chosen.get(hall.about.id) ?? null,
    people: beside.of(hall, role),
    sound: sounding.of(hall.about.id),
  });
  /** By group: what all of it were last told. Most commands change nothing beside the class. */
  const told = new Map<string, string>();
  const snapshotOf = (hall: Hall, role: Role, device: Device | null): Snapshot => {
    const log = hall.core.log();
    // One of them may now know something newer than was told, and has to hear it if that is taken back.
    told.delete(groupOf(hall.about.id, role));
    return {
      room: hall.about,
      studio: { ...settings.studio, language: settings.language },
      version: studio.version,
      session: log && { id: log.id, events: [...log.events] },
      ...presenceOf(hall, role),
      you: role === 'phone' ? nameOf(device) : null,
    };
  };

  const tellPresence = (room: string) => {
    clearTimeout(soon.get(room));
    soon.delete(room);
    const hall = studio.hall(room);
    if (!hall) return;
    others.here(room, count(room, 'screen'), count(room, 'phone'));
    hall.people.phones(everywhere(room).phones, clock.now());
    for (const role of ['screen', 'phone', 'desk'] as const) {
      const group = groupOf(room, role);
      const presence = count(room, role) > 0 ? presenceOf(hall, role) : null;
      const words = JSON.stringify(presence);
      if (presence && told.get(group) !== words) io.local.to(group).emit('presence', presence);
      told.set(group, words);
    }
    renewals.get(room)?.();
    renewals.delete(room);
    const byItself = beside.nextAt(hall);
    const renewal = count(room, 'screen') > 0 && pairable(hall.core.session(), clock.now()) ? studio.codes.of(room, clock.now()).until : null;
    const at = [byItself, renewal].filter((t) => t !== null).sort((a, b) => a - b)[0];
    if (at !== undefined) renewals.set(room, clock.timer(at, () => tellPresence(room)));
  };
  const presenceSoon = (room: string) => {
    if (!soon.has(room)) soon.set(room, setTimeout(() => tellPresence(room), presenceMs(count(room, 'screen'))));
  };

  const beside = openBeside(studio, shown.of, presenceSoon);
  const playHere = (room: string, play: Play) => { io.local.to(groupOf(room, 'screen')).emit('play', play); };
  const sounding = openSounding({
    wants: studio.soundWants, hasMusic: studio.music.any, soon: presenceSoon, warn: studio.log.warn,
    works: (room) => !pairable(studio.hall(room)?.core.session() ?? null, clock.now()),
    play: (room, play) => {
      playHere(room, play);
      studio.talk?.say({ say: 'play', room, play, at: clock.now() });
    },
  });
  studio.talk?.listen((message) => {
    // A sound that comes late may come into the work.
    if (message?.say === 'play' && between(serverAt(message.at), clock.now()) < PLAY_LATE_MS) playHere(message.room, message.play);
    if (message?.say === 'chosen') layOut(message.room, message.plan);
  });

  studio.listen({
    news: (room, news, from) => {
      io.local.to(room).emit('news', news);
      if (from === 'here' && redis?.ready()) io.to(room).except(mine).emit('news', news);
    },
    revoked: (id) => { io.local.in(phoneGroup(id)).disconnectSockets(true); },
    changed: (room) => {
      const hall = studio.hall(room);
      if (hall?.core.session()) chosen.delete(room);
      // A class that has left the screens is gone from them too: the snapshot says so.
      if (hall && !hall.core.log()) {
        for (const role of ['screen', 'phone', 'desk'] as const) io.local.to(groupOf(room, role)).emit('snapshot', snapshotOf(hall, role, null));
      }
      if (hall) beside.changed(hall);
      presenceSoon(room);
    },
    paired: presenceSoon,
    stopped: (room) => {
      tellPresence(room);
      const hall = studio.hall(room);
      if (hall) beside.changed(hall);
    },
  });

  function join(device: Device, message: unknown): JoinReply {
    const parsed = joinSchema.safeParse(message);
    if (!parsed.success) return refuse('bad-message');
    const { protocol, role } = parsed.data;
    // A screen that was opened at the bare address belongs to the first room.
    const room = parsed.data.room || studio.firstRoom;
    if (protocol !== PROTOCOL) return refuse('bad-message', 'This page is of another version than the server. Reload it.');
    const hall = studio.hall(room);
    if (!hall) return refuse('bad-message', `There is no room "${room}" here. Look at the address again.`);
    if (role === 'phone' && !studio.phones.may(tokenIn(device.handshake.headers.cookie), room, clock.now())) return refuse('not-allowed');
    leave(device);
    device.data.joined = { role, room };
    // Nothing is awaited between joining and the snapshot, so nothing can fall between them.
    void device.join([room, groupOf(room, role)]);
    const name = role === 'phone' ? nameOf(device) : null;
    if (name !== null) void device.join(phoneGroup(name));
    presenceSoon(room);
    return { snapshot: snapshotOf(hall, role, device), clock: clock.name };
  }

  function leave(device: Device): void {
    const { joined } = device.data;
    if (!joined) return;
    sounding.gone(device.id);
    device.data.joined = null;
    for (const group of [joined.room, groupOf(joined.room, joined.role)]) void device.leave(group);
    presenceSoon(joined.room);
  }

  function choose({ data: { joined } }: Device, message: unknown): void {
    const { data } = chooseSchema.safeParse(message);
    if (joined?.role !== 'phone' || !data) return;
    layOut(joined.room, data.plan);
    studio.talk?.say({ say: 'chosen', room: joined.room, plan: data.plan });
  }
  function layOut(room: string, plan: string | null): void {
    if (plan === null) chosen.delete(room);
    else chosen.set(room, plan);
    presenceSoon(room);
  }

  function tell(device: Device, message: unknown): Told {
    const { joined } = device.data;
    const hall = joined?.role === 'phone' ? studio.hall(joined.room) : null;
    if (!hall) return { sentence: refusals['not-allowed'] };
    const told = beside.tell(hall, message, nameOf(device) ?? '');
    tellPresence(hall.about.id);
    return told;
  }

  const command = openCommands(studio);

  io.on('connection', (device) => {
    device.data.joined = null;
    void device.join(mine);
    device.on('sample', (reply) => {
      const receivedAt = clock.exact();
      if (typeof reply === 'function') reply({ receivedAt, sentAt: clock.exact(), clock: clock.name });
    });
    device.on('join', (message, reply) => {
      if (typeof reply !== 'function') return;
      const first = join(device, message);
      if (!studio.talk || !('refused' in first) || first.refused.reason !== 'not-allowed') return reply(first);
      void studio.renewPhones().then(() => reply(join(device, message)), () => reply(first));
    });
    device.on('command', (message, reply) => {
      if (typeof reply !== 'function') return;
      void command(device.data.joined, nameOf(device), message, (hall, role) => snapshotOf(hall, role, device)).then(reply);
    });
    device.on('tell', (message, reply) => { if (typeof reply === 'function') reply(tell(device, message)); });
    device.on('choose', (message) => choose(device, message));
    device.on('sound', (message, reply) => {
      const { joined } = device.data;
      const said = joined ? sounding.say(device.id, joined.role, joined.room, message) : { sentence: refusals['not-allowed'] };
      if (typeof reply === 'function') reply(said);
    });
    device.on('disconnect', () => leave(device));
  });

  return {
    close: async () => {
      stopBeat();
      for (const timer of soon.values()) clearTimeout(timer);
      for (const callOff of [...renewals.values(), beside.close, others.stop]) callOff();
      await io.close();
    },
  };
}
