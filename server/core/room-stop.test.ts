/** Holds the stop beside the log: at once, with no class, with a disk that does not answer, and twice the same message. */
import { describe, expect, it } from 'vitest';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import { stoppedFor, withStop } from './room-stop.ts';
import { commandOf, openWorld, pause, start } from './world.ts';

const stop = { type: 'stop' } as const;
const back = { type: 'to-paused' } as const;

async function room() {
  const w = await openWorld();
  let told = 0;
  const core = withStop(w.core, { now: () => w.now(), changed: () => { told += 1; } });
  const send = (message: CommandMessage) => core.command(message, w.now());
  const say = (command: CommandMessage['command']) => send(commandOf(w, command));
  return { w, core, send, say, told: () => told, stopped: () => stoppedFor(core, w.now()) };
}

describe('the stop of a room', () => {
  it('S110 with no class the room is stopped, nothing starts, 4 s later it is for help, and the way back lifts it', async () => {
    const r = await room();
    expect(await r.say(stop)).toEqual({ seq: 0 });
    expect(r.stopped()).toEqual({ since: r.w.now(), answer: null });
    expect(await r.say(start)).toMatchObject({ refused: { reason: 'stopped' } });
    await r.w.advance(4_000);
    expect(r.stopped()?.answer).toBe('help');
    await r.say({ type: 'answer-stop', what: 'out' });
    await r.say({ type: 'stamp-stop', what: 'help-called' });
    expect(r.core.beside()).toMatchObject({ answer: 'out', helpCalledAt: r.w.now(), helpHereAt: null });
    await r.say(back);
    expect(r.stopped()).toBeNull();
    expect(await r.say(start)).toEqual({ seq: 1 });
  });

  it('S110 with a class it is in the log, and nothing is left beside it', async () => {
    const r = await room();
    await r.say(start);
    const pressed = r.say(stop);
    expect(r.core.beside()).not.toBeNull();
    expect(r.told()).toBe(1);
    expect(await pressed).toEqual({ seq: 2 });
    expect(r.core.beside()).toBeNull();
    expect(r.w.session().pause?.what).toBe('stop');
    await r.say(back);
    expect(r.w.session().pause?.what).toBe('pause');
  });

  it('S111 a stalled disk does not hold a stop up; what is said of it meanwhile follows into the log', async () => {
    const r = await room();
    await r.say(start);
    const { release } = r.w.holdAppends();
    const pressed = r.say(stop);
    expect(r.stopped()).not.toBeNull();
    const answered = r.say({ type: 'answer-stop', what: 'out' });
    await r.w.settle();
    release('stored');
    await pressed;
    await answered;
    expect(r.w.session().pause?.stop?.answer).toBe('out');
    expect(r.core.beside()).toBeNull();
  });

  it('S111 where the log cannot be written the room is stopped all the same, and it is led back to a pause only', async () => {
    const r = await room();
    await r.say(start);
    r.w.holdAppends().release('failed');
    expect(await r.say(stop)).toEqual({ seq: 1 });
    expect(r.w.session().pause).toBeNull();
    expect(r.stopped()).not.toBeNull();
    expect(await r.say(pause)).toMatchObject({ refused: { reason: 'stopped' } });
    r.w.holdAppends().release('failed');
    expect(await r.say(back)).toMatchObject({ refused: { reason: 'not-stored' } });
    expect(r.stopped()).not.toBeNull();
    expect(await r.say(back)).toEqual({ seq: 2 });
    expect([r.stopped(), r.w.session().pause?.what]).toEqual([null, 'pause']);
  });

  it('S111 a stop meets a start that is on its way to the disk: the class begins stopped', async () => {
    const r = await room();
    const { release } = r.w.holdAppends();
    const started = r.say(start);
    const stopped = r.say(stop);
    release('stored');
    await Promise.all([started, stopped]);
    expect(r.w.session().pause?.what).toBe('stop');
  });

  it('K2 a stop that arrives twice is one stop, also after it was led back; one that was held back is refused', async () => {
    const r = await room();
    await r.say(start);
    const message = commandOf(r.w, stop);
    await r.send(message);
    await r.say(back);
    const told = r.told();
    expect(await r.send(message)).toEqual({ seq: 2 });
    expect([r.stopped(), r.told()]).toEqual([null, told]);
    const late = commandOf(r.w, stop);
    await r.w.advance(2_500);
    expect(await r.send(late)).toMatchObject({ refused: { reason: 'stale' } });
    expect(r.stopped()).toBeNull();
  });

  it('K41 what was said before the stop and arrives once more has its first answer; what the stop refused stays refused when it is lifted', async () => {
    const r = await room();
    await r.say(start);
    const { release } = r.w.holdAppends();
    const message = commandOf(r.w, pause);
    const [first, stopped] = [r.send(message), r.say(stop)];
    const second = r.send(message);
    const held = commandOf(r.w, { type: 'pause', reason: 'water' });
    expect(await r.send(held)).toMatchObject({ refused: { reason: 'stopped' } });
    release('stored');
    expect([await first, await second]).toEqual([{ seq: 2 }, { seq: 2 }]);
    await stopped;
    await r.say(back);
    expect(await r.send(held)).toMatchObject({ refused: { reason: 'stopped' } });
    expect(r.w.session().pause?.reason).toBeNull();
  });
});
