import { expect, it } from 'vitest';
import { planSchema } from '../plan/plan.ts';
import type { Event } from '../session/command.ts';
import { decide } from '../session/decide.ts';
import { evolve, replay } from '../session/evolve.ts';
import type { Session } from '../session/session.ts';
import { serverAt } from '../time/units.ts';
import { amongNobody, noPeople } from '../wire/messages/people.ts';
import { noSound } from '../wire/messages/sound.ts';
import type { Snapshot } from '../wire/messages/snapshot.ts';
import { foldNews, foldPresence, foldReply, foldSnapshot, nothingHeld } from './fold.ts';

const at = (ms: number) => serverAt(1_800_000_000_000 + ms);
const plan = planSchema.parse({ format: 1, id: 'p', name: 'P', sections: [{ id: 's', kind: 'welcome', talk: 60 }] });
const decided = (session: Session | null, command: Parameters<typeof decide>[1], ms: number): readonly Event[] => {
  const d = decide(session, command, at(ms));
  if ('refused' in d) throw new Error(d.refused.sentence);
  return d.events;
};
const start = (id: string) => decided(null, { type: 'start', session: id, room: 'garden', plan, facts: {}, settings: { countInMs: 3_000 }, freeAt: null }, 0);
const log = ((events: Event[]) => {
  const session = replay(events);
  return [...events, ...decided(session, { type: 'note', text: 'one' }, 1), ...decided(session, { type: 'note', text: 'two' }, 2)];
})([...start('a')]);
const snapshot = (events: Event[] | null): Snapshot => ({
  room: { id: 'garden', name: 'Garden room', pattern: 0 }, studio: { name: 'S', timeZone: 'UTC' }, version: '1',
  session: events && { id: 'a', events }, pairing: null, chosen: null, present: { screens: 1, phones: 0 }, ...amongNobody,
});
const news = (from: number, to: number) => ({ session: 'a', seq: to, events: log.slice(from, to) });

it('W3 a snapshot replaces everything', () => {
  const held = foldSnapshot(snapshot(log));
  expect(held).toMatchObject({ seq: 3, session: replay(log), about: { version: '1' } });
  expect(foldSnapshot(snapshot(null))).toMatchObject({ seq: 0, session: null });
});

it('W3 news is folded on once, whatever of it is already there', () => {
  const all = foldSnapshot(snapshot(log));
  const one = foldSnapshot(snapshot(log.slice(0, 1)));
  expect(foldNews(one, news(1, 3))).toEqual(all);
  expect(foldNews(one, news(0, 3))).toEqual(all);
  expect(foldNews(all, news(1, 2))).toBe(all);
  expect(foldNews(foldSnapshot(snapshot(null)), news(0, 1))).toEqual(one);
});

it('W3 a gap, or news of a class that is not held, asks for a new snapshot', () => {
  const one = foldSnapshot(snapshot(log.slice(0, 1)));
  expect(foldNews(one, news(2, 3))).toBe('gap');
  expect(foldNews(one, { ...news(1, 2), session: 'b' })).toBe('gap');
  expect(foldNews(nothingHeld, news(1, 2))).toBe('gap');
});

it('W3 the start of a new class takes the place of the old one', () => {
  const [started] = start('b');
  if (!started) throw new Error('not started');
  const next = foldNews(foldSnapshot(snapshot(log)), { session: 'b', seq: 1, events: [started] });
  expect(next).toMatchObject({ seq: 1, session: evolve(null, started) });
});

it('W3 a snapshot in an answer that news has overtaken takes nothing back', () => {
  const all = foldSnapshot(snapshot(log));
  expect(foldReply(all, snapshot(log.slice(0, 2)))).toBe(all);
  expect(foldReply(all, snapshot(null))).toBe(all);
  expect(foldReply(foldSnapshot(snapshot(log.slice(0, 2))), snapshot(log))).toEqual(all);
  expect(foldReply(nothingHeld, snapshot(log))).toEqual(all);
});

it('W3 who is here and the code change without the class', () => {
  const held = foldSnapshot(snapshot(log));
  const presence = { people: noPeople, sound: noSound, chosen: null, present: { screens: 2, phones: 1 }, pairing: { code: '123456', address: 'a', url: 'u' } };
  expect(foldPresence(held, presence)).toMatchObject({ seq: 3, about: presence });
  expect(foldPresence(nothingHeld, presence)).toBe(nothingHeld);
});

it('W3 the start of a class that comes late, after the class that followed it, takes nothing back', () => {
  const [later] = start('b');
  if (later?.type !== 'started') throw new Error('not started');
  const held = foldSnapshot(snapshot([{ ...later, at: serverAt(later.at + 60_000) }]));
  expect(foldNews(held, news(0, 1))).toBe(held);
});
