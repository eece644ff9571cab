import { expect, it } from 'vitest';
import { LINGER_MS, ROOM_QUEUE_MAX, STALE_COMMAND_MS } from '../../shared/limits.ts';
import { view } from '../../shared/view/view.ts';
import { commandOf, openWorld, pause, start } from './world.ts';

it('K1 a command is answered and told of only when it is on disk', async () => {
  const w = await openWorld();
  const held = w.holdAppends();
  const answer = w.say(start);
  await w.settle();
  expect(w.news).toEqual([]);
  expect(w.core.log()).toBeNull();
  held.release('stored');
  expect(await answer).toEqual({ seq: 1 });
  expect(w.news).toMatchObject([{ seq: 1, events: [{ type: 'started', room: 'garden' }] }]);
});

it('K1 what may or may not be on disk is read again before anything else is decided', async () => {
  for (const kept of [true, false]) {
    const w = await openWorld();
    await w.say(start);
    const held = w.holdAppends();
    const first = w.say(pause);
    const second = w.say(pause);
    await w.settle();
    w.unreadable(2);
    held.release(kept ? 'unknown, kept' : 'unknown, lost');
    await w.advance(1_000);
    expect(await first).toMatchObject(kept ? { seq: 2 } : { refused: { reason: 'not-stored' } });
    expect(await second).toEqual({ seq: 2 });
    expect(w.core.log()?.events.map((e) => e.type)).toEqual(['started', 'paused']);
    expect((await w.store.log('class-1')).length).toBe(2);
  }
});

it('K550 where the answer to an append was lost, and another server decided that very command meanwhile, the class is what its log says', async () => {
  const w = await openWorld();
  await w.say(start);
  const pausing = commandOf(w, pause);
  const held = w.holdAppends();
  const answer = w.core.command(pausing, w.now());
  await w.settle();
  // The phone has changed over; the other server heard the same command later.
  const there = await openWorld(w.store, w.now(40));
  expect(await there.core.command({ ...pausing, saidAt: there.now() }, there.now())).toEqual({ seq: 2 });
  held.release('unknown, lost');
  expect(await answer).toEqual({ seq: 2 });
  expect(w.session()).toEqual(there.session());
  expect(w.core.log()?.events).toEqual((await w.store.log('class-1')).map((row) => row.event));
});

it('K2 a command that arrives twice acts once and gets the first answer, after a restart too', async () => {
  const w = await openWorld();
  const first = commandOf(w, start);
  expect(await w.core.command(first, w.now())).toEqual({ seq: 1 });
  const pausing = commandOf(w, pause);
  expect(await Promise.all([w.core.command(pausing, w.now()), w.core.command(pausing, w.now())])).toEqual([{ seq: 2 }, { seq: 2 }]);
  const refused = commandOf(w, { type: 'carry-on', pause: 7 });
  const no = await w.core.command(refused, w.now());
  expect(no).toMatchObject({ refused: { reason: 'too-late' } });
  expect(await w.core.command(refused, w.now())).toEqual(no);
  const again = await openWorld(w.store, w.now());
  expect(await again.core.command(pausing, again.now())).toEqual({ seq: 2 });
  expect(await again.core.command(first, again.now())).toEqual({ seq: 1 });
  expect(again.core.log()?.events.length).toBe(2);
});

it('K3 a command that waited more than 2 s, or that the network held back so long, is refused', async () => {
  const w = await openWorld();
  await w.say(start);
  const late = commandOf(w, pause);
  await w.advance(STALE_COMMAND_MS + 1);
  expect(await w.core.command(late, w.now())).toMatchObject({ refused: { reason: 'stale' } });
  const held = w.holdAppends();
  const slow = w.say(pause);
  const behind = w.say({ type: 'note', text: 'too slow' });
  await w.advance(STALE_COMMAND_MS + 1);
  held.release('stored');
  expect(await slow).toEqual({ seq: 2 });
  expect(await behind).toMatchObject({ refused: { reason: 'not-stored' } });
});

it('K3 a stamp is that of receipt, and never before the last event', async () => {
  const w = await openWorld();
  await w.say(start);
  const pressedAt = w.now();
  const held = w.holdAppends();
  const first = w.say({ type: 'note', text: 'one' });
  const second = w.say(pause);
  await w.advance(300);
  held.release('stored');
  await Promise.all([first, second]);
  expect(w.core.log()?.events.map((e) => e.at)).toEqual([pressedAt, pressedAt, pressedAt]);
});

it('K4 a full queue refuses at once, and what waits is still done', async () => {
  const w = await openWorld();
  await w.say(start);
  const held = w.holdAppends();
  const answers = Array.from({ length: ROOM_QUEUE_MAX + 2 }, () => w.say({ type: 'note', text: 'x' }));
  expect(await answers.at(-1)).toMatchObject({ refused: { reason: 'busy' } });
  held.release('stored');
  expect((await Promise.all(answers)).filter((a) => 'seq' in a).length).toBe(ROOM_QUEUE_MAX + 1);
});

it('K5 what cannot be stored is refused, nothing changes, and the clock of the class goes on', async () => {
  const w = await openWorld();
  await w.say(start);
  await w.say({ type: 'go', occurrence: w.seen().occurrence });
  const before = w.core.session();
  w.holdAppends().release('failed');
  expect(await w.say(pause)).toMatchObject({ refused: { reason: 'not-stored' } });
  expect(w.core.session()).toBe(before);
  const { at } = w.seen();
  await w.advance(5_000);
  expect(w.seen().at).toBe(at + 5_000);
  expect(await w.say(pause)).toEqual({ seq: 3 });
});

it('K6 a class that nobody ended is written down when it is over, and leaves the screens half an hour later', async () => {
  const w = await openWorld();
  await w.say(start);
  await w.say({ type: 'go', occurrence: w.seen().occurrence });
  await w.advance(10 * 60_000);
  expect(view(w.session(), w.now()).phase).toBe('over');
  expect((await w.store.classes(null, 10)).classes).toMatchObject([{ how: 'ran-out', headCount: null, endedAt: view(w.session(), w.now()).over?.at }]);
  expect(await w.say({ type: 'head-count', n: 8 })).toEqual({ seq: 3 });
  expect((await w.store.classes(null, 10)).classes).toMatchObject([{ how: 'ran-out', headCount: 8 }]);
  await w.advance(LINGER_MS);
  expect(w.core.log()).toBeNull();
  expect(await w.say(start)).toEqual({ seq: 1 });
});

it('K6 a class that was over while the server was gone is written down at the next start', async () => {
  const w = await openWorld();
  await w.say(start);
  const again = await openWorld(w.store, w.now(3 * 3_600_000));
  await again.settle();
  expect((await w.store.classes(null, 10)).classes).toMatchObject([{ how: 'forgotten' }]);
  expect(again.core.log()).toBeNull();
});

it('K7 opened again on its log, a class stands where it stood, to the millisecond', async () => {
  const w = await openWorld();
  await w.say(start);
  await w.say({ type: 'go', occurrence: w.seen().occurrence });
  await w.advance(12_345);
  const again = await openWorld(w.store, w.now());
  expect(again.core.session()).toEqual(w.core.session());
  expect(again.seen()).toEqual(w.seen());
});

it('W2 a command about another class than the one that runs is refused; so is a plan that is not there or cannot be used', async () => {
  const w = await openWorld();
  expect(await w.say(pause)).toMatchObject({ refused: { reason: 'no-class' } });
  expect(await w.say({ ...start, plan: 'nothing' })).toMatchObject({ refused: { reason: 'unknown-plan' } });
  expect(await w.say({ ...start, plan: 'broken' })).toMatchObject({ refused: { reason: 'bad-plan', sentence: expect.stringContaining('sections[0].work') } });
  await w.say(start);
  expect(await w.core.command({ ...commandOf(w, pause), session: 'yesterday' }, w.now())).toMatchObject({ refused: { reason: 'too-late' } });
  expect(await w.say(start)).toMatchObject({ refused: { reason: 'already-running' } });
});
