/** Holds that the welcome and the clear up are part of a class and of its time. */
import { expect, it } from 'vitest';
import { finish } from '../../shared/session/finish.ts';
import { ledger } from '../../shared/session/ledger.ts';
import { floorOf } from '../../shared/view/floor.ts';
import { view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import { class_, main, occurrence } from './hands.ts';

it('P100 welcome and clear up are sections of the plan: talk that ends on go, with an estimate that counts in the time of the class', () => {
  const bare = class_(main());
  const h = class_({ id: 'w', kind: 'welcome', talk: 60 }, main(), { id: 'c', kind: 'clear-up', talk: 90 });
  const lengthMs = (x: typeof h) => finish(x.session, x.at).endAt - x.at;
  expect(lengthMs(h) - lengthMs(bare)).toBe(150_000);
  // On the floor there are both talks, and a set-up of 3 s in place of the count-in that starting owes.
  expect(floorOf(h.session).lengthMs - floorOf(bare.session).lengthMs).toBe(153_000);
  expect(view(h.session, h.at)).toMatchObject({ phase: 'talk', waits: true, seconds: null });
  expect(words(h.session, view(h.session, h.at)).title).toBe('Welcome');
  h.wait(45_000);
  h.say({ type: 'go', occurrence: occurrence(h) });
  expect(ledger(h.session, h.at).accounts.talk).toBe(45_000);
  h.wait(finish(h.session, h.at).remainingMs + 3_000);
  expect([words(h.session, view(h.session, h.at)).title, view(h.session, h.at).waits]).toEqual(['Clear up', true]);
  h.say({ type: 'go', occurrence: occurrence(h) });
  expect(view(h.session, h.at).phase).toBe('over');
});
