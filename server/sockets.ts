/**
 * Owns the server's side of the socket: every message is parsed here, once, and
 * answered. What is known of a connection is kept by connection, never by device.
 * Leaves alone what a command leads to (core).
 */
import type { Server as HttpServer } from 'node:http';
import { Server, type Socket } from 'socket.io';
import { MESSAGE_MOST_BYTES } from '../shared/limits.ts';
import { refusals, refuse } from '../shared/session/refusal.ts';
import { between } from '../shared/time/units.ts';
import { chooseSchema } from '../shared/wire/messages/choose.ts';
import { type CommandReply, commandMessageSchema } from '../shared/wire/messages/command.ts';
import { type JoinReply, joinSchema, type Role } from '../shared/wire/messages/join.ts';
import type { Snapshot } from '../shared/wire/messages/snapshot.ts';
import type { Told } from '../shared/wire/messages/tell.ts';
import { PROTOCOL } from '../shared/wire/protocol.ts';
import type { ToDevice } from '../shared/wire/to-device.ts';
import type { ToServer } from '../shared/wire/to-server.ts';
import type { Address } from './address.ts';
import { may } from './core/may.ts';
import { knownNames } from './door/names.ts';
import { socketDoor } from './door/socket-door.ts';
import { BEAT_MS, beat, SILENT_DROP_MS, SILENT_PING_MS } from './heartbeat.ts';
import { nameIn, tokenIn } from './pairing.ts';
import { openBeside } from './people/beside.ts';
import { ledByAnother } from './people/people.ts';
import { monotonicMs } from './real-clock.ts';
import { openSounding } from './sound/sounding.ts';
import { type Hall, pairable, type Studio } from './studio.ts';

interface Joined { readonly role: Role; readonly room: string }
type NoServerEvents = Record<string, never>;
type Io = Server<ToServer, ToDevice, NoServerEvents, { joined: Joined | null }>;
type Device = Socket<ToServer, ToDevice, NoServerEvents, { joined: Joined | null }>;

/** Many devices that come at once are told of as one change; in a room with very many, where each is a thousand writes, later. */
const presenceMs = (screens: number): number => (screens > 100 ? 1_000 : 200);
const groupOf = (room: string, role: Role): string => `${room}/${role}`;
const phoneGroup = (name: string): string => `one phone/${name}`;

export function openSockets(http: HttpServer, studio: Studio, where: () => Address): { readonly close: () => Promise<void> } {
  const { settings } = studio;
  const door = socketDoor(knownNames(settings.names), settings.limitLoopback, studio.log.warn, monotonicMs);
  const io: Io = new Server(http, {
    serveClient: false,
    maxHttpBufferSize: MESSAGE_MOST_BYTES,
    perMessageDeflate: false,
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

  const count = (room: string, role: Role): number => io.sockets.adapter.rooms.get(groupOf(room, role))?.size ?? 0;

  const codeOf = (hall: Hall) => {
    const { code, until } = studio.codes.of(hall.about.id, clock.now());
    const { typed, origin } = where();
    return { code, until, address: `${typed}/phone`, url: `${origin}/phone?code=${code}` };
  };
  /** How a phone joins: for screens, where nobody can be working. Asking for it makes the code. */
  const pairingOf = (hall: Hall): Snapshot['pairing'] => {
    const session = hall.core.session();
    if (!pairable(session, clock.now()) && !hall.people.asksForPhone(session, clock.now())) return null;
    const { until: _until, ...pairing } = codeOf(hall);
    return pairing;
  };
  const nameOf = (device: Device | null): string | null => nameIn(device?.handshake.headers.cookie);
  const presenceOf = (hall: Hall, role: Role) => ({
    present: { screens: count(hall.about.id, 'screen'), phones: count(hall.about.id, 'phone') },
    pairing: role === 'screen' ? pairingOf(hall) : null,
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
    hall.people.phones(count(room, 'phone'), clock.now());
    for (const role of ['screen', 'phone', 'desk'] as const) {
      const group = groupOf(room, role);
      const presence = count(room, role) > 0 ? presenceOf(hall, role) : null;
      const words = JSON.stringify(presence);
      if (presence && told.get(group) !== words) io.to(group).emit('presence', presence);
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

  const beside = openBeside(studio, codeOf, presenceSoon);
  const sounding = openSounding({
    wants: studio.soundWants, hasMusic: studio.music.any, soon: presenceSoon, warn: studio.log.warn,
    works: (room) => !pairable(studio.hall(room)?.core.session() ?? null, clock.now()),
    play: (room, message) => { io.to(groupOf(room, 'screen')).emit('play', message); },
  });

  studio.listen({
    news: (room, news) => { io.to(room).emit('news', news); },
    revoked: (id) => { io.in(phoneGroup(id)).disconnectSockets(true); },
    changed: (room) => {
      const hall = studio.hall(room);
      if (hall?.core.session()) chosen.delete(room);
      // A class that has left the screens is gone from them too: the snapshot says so.
      if (hall && !hall.core.log()) {
        for (const role of ['screen', 'phone', 'desk'] as const) io.to(groupOf(room, role)).emit('snapshot', snapshotOf(hall, role, null));
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

  function choose(device: Device, message: unknown): void {
    const { joined } = device.data;
    const parsed = chooseSchema.safeParse(message);
    if (joined?.role !== 'phone' || !parsed.success) return;
    if (parsed.data.plan === null) chosen.delete(joined.room);
    else chosen.set(joined.room, parsed.data.plan);
    presenceSoon(joined.room);
  }

  function tell(device: Device, message: unknown): Told {
    const { joined } = device.data;
    const hall = joined?.role === 'phone' ? studio.hall(joined.room) : null;
    if (!hall) return { sentence: refusals['not-allowed'] };
    const told = beside.tell(hall, message, nameOf(device) ?? '');
    tellPresence(hall.about.id);
    return told;
  }

  async function command(device: Device, message: unknown): Promise<CommandReply> {
    const receivedAt = clock.now();
    const { joined } = device.data;
    const hall = joined && studio.hall(joined.room);
    if (!hall) return { ...refuse('not-allowed'), snapshot: null };
    const parsed = commandMessageSchema.safeParse(message);
    if (!parsed.success) return { ...refuse('bad-message'), snapshot: null };
    // Whoever may not is told so and no more: the whole class would be a thousand times what was asked.
    const { command: asked } = parsed.data;
    if (!may(joined.role, asked)) return { ...refuse('not-allowed'), snapshot: null };
    // What anybody may press at the screen a phone may too; for the rest it runs this class, not only the room.
    const name = joined.role === 'phone' ? nameOf(device) : null;
    if (!may('screen', asked) && !hall.people.mayLead(name, hall.core.session(), receivedAt)) return { ...refuse('not-allowed', ledByAnother), snapshot: null };
    const answer = await hall.core.command(parsed.data, receivedAt);
    if (asked.type === 'start' && !('refused' in answer)) hall.people.started(name, hall.core.session()?.id ?? '');
    studio.metrics.answered('refused' in answer ? answer.refused.reason : 'stored', between(receivedAt, clock.now()));
    return 'refused' in answer ? { ...answer, snapshot: snapshotOf(hall, joined.role, device) } : answer;
  }

  io.on('connection', (device) => {
    device.data.joined = null;
    device.on('sample', (reply) => {
      const receivedAt = clock.exact();
      if (typeof reply === 'function') reply({ receivedAt, sentAt: clock.exact(), clock: clock.name });
    });
    device.on('join', (message, reply) => {
      if (typeof reply === 'function') reply(join(device, message));
    });
    device.on('command', (message, reply) => {
      if (typeof reply === 'function') void command(device, message).then(reply);
    });
    device.on('tell', (message, reply) => {
      if (typeof reply === 'function') reply(tell(device, message));
    });
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
      for (const callOff of renewals.values()) callOff();
      beside.close();
      await io.close();
    },
  };
}
