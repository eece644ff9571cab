/**
 * Owns the page that shows one sample of phone or desk: ?state= names it. Built
 * by no release; tests/pictures opens it and looks.
 */
import { StrictMode, type ReactNode } from 'react';
import { createRoot } from 'react-dom/client';
import '../common/base.css';
import type { LinkState, Room } from '../../shared/link/types.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { report } from '../../shared/view/report.ts';
import { movementsSchema } from '../../shared/wire/http.ts';
import { emergencySchema } from '../../shared/wire/emergency.ts';
import { amongNobody, type People } from '../../shared/wire/messages/people.ts';
import { ask } from '../common/get.ts';
import { libraryOf } from '../common/library.ts';
import { Home } from '../desk/Home.tsx';
import { ReportPage } from '../desk/ReportPage.tsx';
import { Pages } from '../phone/App.tsx';
import { Pair } from '../phone/pairing/Pair.tsx';
import { Arrived } from '../phone/rooms/Arrived.tsx';
import { type Rooms, RoomsAreHere } from '../phone/rooms/hand.ts';
import { startAt, states, stateOf } from './states.ts';

const query = new URL(window.location.href).searchParams;
const name = query.get('state') ?? 'right';
const timeZone = 'Europe/Berlin';

const link: LinkState = query.has('lost') ? { state: 'lost', since: 0, reason: 'gone' } : { state: 'live', since: 0 };

const emergency = emergencySchema.parse({
  address: '14 Weaver Lane, rear house', floor: 'Second floor, stairs on the left', door: 'Green door, bell “Yard”', number: '112',
  defibrillator: 'By the front desk, white box', firstAid: 'Store room, second shelf', wayOut: 'Back stairs, not the lift', meetingPoint: 'Lime tree in the yard',
  localRules: 'Somebody goes down to the gate.',
});

/** Who is here, who leads, and what other rooms need, as ?here, ?led and ?call ask for it. */
const people: People = {
  ...amongNobody.people,
  emergency: query.has('bare') ? amongNobody.people.emergency : emergency,
  here: query.has('here') ? { counts: { new: 2, knee: 1, wrist: 2, pregnancy: 1, 'no-jumping': 3 }, heads: 14, late: [] } : null,
  elsewhere: query.has('call') ? [{ room: 'street', name: 'Street room', pattern: 4, what: 'help', since: startAt }] : [],
  lead: query.has('led') ? 'another' : query.has('just-paired') ? 'this' : null,
};

/** Other rooms of this phone, as ?rooms asks for them. */
const rooms: Rooms = {
  others: query.has('rooms') ? [{ id: 'attic', name: 'Attic', pattern: 6 }, { id: 'street', name: 'Street room', pattern: 4 }] : [],
  moveTo: () => undefined, pairAgain: () => undefined, justPaired: query.has('just-paired'),
};

function roomOf(session: Room['session'], now: Room['now'], heads: number | null): Room {
  return {
    link,
    about: {
      room: { id: 'garden', name: query.get('room') ?? 'Garden room', pattern: Number(query.get('pattern') ?? 0) },
      studio: { name: 'Linden Yard', timeZone }, version: 'sample', pairing: null, chosen: null, present: { screens: query.has('alone') ? 0 : 1, phones: 1 }, ...amongNobody, people, you: 'this',
    },
    session: session && heads !== null ? { ...session, headCount: heads } : session,
    seq: 1,
    now,
    errorMs: () => 1,
    choose: () => undefined,
    tell: async (message) => {
      if (message.do === 'picture') return { done: true, picture: 'boat', among: ['tree', 'boat', 'key', 'cup'] };
      return message.do === 'hand-over' ? { done: true, code: '482915', url: 'http://192.168.1.20:8080/phone?code=482915' } : { done: true };
    },
    sound: async () => ({ screens: 0 }),
    onPlay: () => () => undefined,
    onSession: (hear) => {
      hear(session, 1);
      return () => undefined;
    },
    send: async () => (query.has('lost')
      ? { done: false, sentence: 'No connection: that tap was not sent. Press again when it is back.', reason: 'offline' }
      : { done: false, sentence: 'That moment has passed. Look again, then press.', reason: 'too-late' }),
  };
}

async function pageOf(): Promise<ReactNode> {
  if (name === 'desk-home') return <Home />;
  if (name === 'arrived') return <Arrived to={{ id: 'street', name: query.get('room') ?? 'Street room', pattern: 4 }}>{null}</Arrived>;
  if (name === 'pair') return <Pair code={query.get('code')} why={null} onPaired={() => undefined} />;
  const got = await ask('/api/movements', movementsSchema);
  const library = libraryOf('ok' in got ? got.ok.movements : []);
  if (name === 'choose') return <Pages room={roomOf(null, () => startAt, null)} library={library} />;
  const planId = states[name === 'desk-class' ? 'busy' : name === 'desk-running' ? 'still-running' : name]?.plan ?? '';
  const plan = await ask(`/api/plans/${planId}`, planSchema);
  if ('problem' in plan) return plan.problem;
  const forCover = query.has('cover') ? 'Two of them do not lie down: chairs by the window. The last song is theirs.' : plan.ok.forCover;
  const hand = stateOf(name === 'desk-class' ? 'busy' : name === 'desk-running' ? 'still-running' : name, () => ({ ...plan.ok, forCover }), library.facts);
  if (name.startsWith('desk-')) {
    const held = report(hand.events, hand.now());
    return held && <main className="desk"><p><a href="/desk">All classes</a></p><ReportPage report={held} events={hand.events} timeZone={timeZone} /></main>;
  }
  const session = hand.session();
  return <Pages room={roomOf(session, hand.now, session.headCount ?? 14)} library={library} />;
}

const root = document.getElementById('root');
if (name.startsWith('desk-')) await import('../desk/desk.css');
else {
  await import('../phone/phone.css');
  await import('../phone/class/class.css');
  await import('../phone/head/head.css');
  await import('../phone/door/door.css');
  await import('../phone/stop/stop.css');
}
if (root) {
  const page = await pageOf();
  createRoot(root).render(<StrictMode><RoomsAreHere value={rooms}>{page}</RoomsAreHere></StrictMode>);
  document.documentElement.dataset.ready = 'true';
}
