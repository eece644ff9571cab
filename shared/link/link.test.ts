import { expect, it, vi } from 'vitest';
import { COMMAND_ANSWER_MS } from '../limits.ts';
import { deviceAt } from '../time/units.ts';
import type { CommandReply } from '../wire/messages/command.ts';
import type { JoinReply } from '../wire/messages/join.ts';
import type { SampleReply } from '../wire/messages/sample.ts';
import { amongNobody } from '../wire/messages/people.ts';
import type { Snapshot } from '../wire/messages/snapshot.ts';
import type { Told } from '../wire/messages/tell.ts';
import { createLink } from './link.ts';
import { newId } from './new-id.ts';
import type { Wire, WireListener } from './wire.ts';

const snapshot: Snapshot = {
  room: { id: 'garden', name: 'Garden room', pattern: 0 }, studio: { name: 'S', timeZone: 'UTC' }, version: '1',
  session: null, pairing: null, chosen: null, present: { screens: 1, phones: 0 }, ...amongNobody,
};
const settle = async () => { for (let i = 0; i < 20; i += 1) await Promise.resolve(); };
const tooLate = () => Promise.reject(new Error('no answer in time'));

/** A link on a wire and a clock that a test holds in its hand. */
function world() {
  let at = 0;
  const timers = new Set<{ at: number; run: () => void }>();
  let listener: WireListener | null = null;
  const answers = {
    join: async (): Promise<JoinReply> => ({ snapshot, clock: 'one' }),
    sample: async (): Promise<SampleReply> => ({ receivedAt: 1_000_000 + at, sentAt: 1_000_000 + at, clock: 'one' }),
    command: async (): Promise<CommandReply> => ({ seq: 1 }),
    tell: async (): Promise<Told> => ({ done: true }),
  };
  const wire = {
    choose: vi.fn(), sound: vi.fn(async () => ({ screens: 0 })), tell: vi.fn(() => answers.tell()), join: vi.fn(() => answers.join()), sample: vi.fn(() => answers.sample()), command: vi.fn(() => answers.command()),
    again: vi.fn(), close: vi.fn(),
  };
  const link = createLink({
    role: 'phone', room: 'garden', newId,
    clock: {
      now: () => deviceAt(at),
      wallMs: () => at,
      afterMs: (ms, run) => {
        const timer = { at: at + ms, run };
        timers.add(timer);
        return () => { timers.delete(timer); };
      },
    },
    open: (given): Wire => {
      listener = given;
      return wire;
    },
  });
  link.subscribe(() => {});
  const hear = (): WireListener => {
    if (!listener) throw new Error('not open');
    return listener;
  };
  return {
    link, wire, answers, hear,
    room: link.room,
    advance: async (ms: number) => {
      const end = at + ms;
      for (;;) {
        await settle();
        const next = [...timers].filter((t) => t.at <= end).sort((a, b) => a.at - b.at)[0];
        if (!next) break;
        timers.delete(next);
        at = Math.max(at, next.at);
        next.run();
      }
      at = end;
      await settle();
    },
  };
}
const end = { type: 'end' } as const;

it('W4 what is pressed without a connection is refused at once and never sent later', async () => {
  const w = world();
  expect(await w.room().send(end)).toMatchObject({ done: false, reason: 'offline' });
  w.hear().up();
  await w.advance(1_000);
  expect(w.room().link.state).toBe('live');
  w.hear().down('transport close');
  expect(w.room().link).toMatchObject({ state: 'lost', reason: 'transport close' });
  expect(await w.room().send(end)).toMatchObject({ done: false, reason: 'offline' });
  w.hear().up();
  await w.advance(10_000);
  expect(w.room().link.state).toBe('live');
  expect(w.wire.command).not.toHaveBeenCalled();
});

it('W5 a command without an answer is reported and not sent again; a refusal comes with its reason and the newest snapshot', async () => {
  const w = world();
  w.hear().up();
  await w.advance(1_000);
  w.answers.command = tooLate;
  expect(await w.room().send(end)).toMatchObject({ done: false, reason: 'offline', sentence: expect.stringContaining('Look at the screen') });
  expect(w.wire.command).toHaveBeenCalledTimes(1);
  expect(w.wire.command).toHaveBeenLastCalledWith(expect.objectContaining({ session: null, saidAt: 1_001_000, command: end }), COMMAND_ANSWER_MS);
  w.answers.command = async () => ({ refused: { reason: 'over', sentence: 'This class is over.' }, snapshot: { ...snapshot, version: '2' } });
  expect(await w.room().send(end)).toEqual({ done: false, reason: 'over', sentence: 'This class is over.' });
  expect(w.room().about?.version).toBe('2');
});

it('W6 two samples without an answer: the connection is made afresh, and the clock goes on meanwhile', async () => {
  const w = world();
  w.hear().up();
  await w.advance(1_000);
  w.answers.sample = tooLate;
  await w.advance(3_000);
  expect(w.room().link).toMatchObject({ state: 'lost', reason: 'no answer' });
  expect(w.wire.again).toHaveBeenCalledTimes(1);
  await w.advance(60_000);
  expect(w.room().now()).toBe(1_064_000);
});

it('W6 a join without an answer begins afresh; after a loss the newest snapshot replaces everything', async () => {
  const w = world();
  w.answers.join = tooLate;
  w.hear().up();
  await w.advance(100);
  expect(w.room().link.state).toBe('lost');
  expect(w.wire.again).toHaveBeenCalledTimes(1);
  w.answers.join = async () => ({ snapshot: { ...snapshot, version: '7' }, clock: 'one' });
  w.hear().up();
  await w.advance(100);
  expect(w.room()).toMatchObject({ link: { state: 'live' }, about: { version: '7' } });
});

it('O42 a server that came back in another time is believed from its first word, and until a sample says how late it is nothing is claimed', async () => {
  const w = world();
  w.hear().up();
  await w.advance(60_000);
  expect(w.room().errorMs()).toBeLessThan(5);
  w.hear().down('transport close');
  w.answers.join = async () => ({ snapshot, clock: 'two' });
  w.answers.sample = () => new Promise(() => {});
  w.hear().up();
  await w.advance(100);
  expect(w.room().link.state).toBe('live');
  expect(w.room().errorMs()).toBeNull();
  expect(w.room().now()).toBe(1_060_100);
});

it('W6 waking asks for the time at once, and goes back to a server that was lost', async () => {
  const w = world();
  w.hear().up();
  await w.advance(60_000);
  w.wire.sample.mockClear();
  w.link.wake();
  await w.advance(500);
  expect(w.wire.sample.mock.calls.length).toBeGreaterThanOrEqual(8);
  w.hear().down('ping timeout');
  w.link.wake();
  expect(w.wire.again).toHaveBeenCalledTimes(1);
});

it('W7 a refused join stays refused, says why, and closes', async () => {
  const w = world();
  w.answers.join = async () => ({ refused: { reason: 'not-allowed', sentence: 'Pair it.' } });
  w.hear().up();
  await w.advance(100);
  w.link.wake();
  await w.advance(10_000);
  expect(w.room().link).toMatchObject({ state: 'refused', reason: { sentence: 'Pair it.' } });
  expect(w.wire.close).toHaveBeenCalled();
  expect(w.wire.again).not.toHaveBeenCalled();
});

it('W5 ids of commands are UUIDs, none like another', () => {
  const ids = Array.from({ length: 200 }, newId);
  expect(new Set(ids).size).toBe(200);
  for (const id of ids) expect(id).toMatch(/^[\da-f]{8}-[\da-f]{4}-4[\da-f]{3}-[89ab][\da-f]{3}-[\da-f]{12}$/);
});
