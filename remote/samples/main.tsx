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
import { amongNobody } from '../../shared/wire/messages/people.ts';
import { ask } from '../common/get.ts';
import { libraryOf } from '../common/library.ts';
import { Home } from '../desk/Home.tsx';
import { ReportPage } from '../desk/ReportPage.tsx';
import { Pages } from '../phone/App.tsx';
import { Pair } from '../phone/pairing/Pair.tsx';
import { startAt, states, stateOf } from './states.ts';

const query = new URL(window.location.href).searchParams;
const name = query.get('state') ?? 'right';
const timeZone = 'Europe/Berlin';

const link: LinkState = query.has('lost') ? { state: 'lost', since: 0, reason: 'gone' } : { state: 'live', since: 0 };

function roomOf(session: Room['session'], now: Room['now'], heads: number | null): Room {
  return {
    link,
    about: {
      room: { id: 'garden', name: query.get('room') ?? 'Garden room', pattern: Number(query.get('pattern') ?? 0) },
      studio: { name: 'Linden Yard', timeZone }, version: 'sample', pairing: null, chosen: null, present: { screens: 1, phones: 1 }, ...amongNobody,
    },
    session: session && heads !== null ? { ...session, headCount: heads } : session,
    seq: 1,
    now,
    errorMs: () => 1,
    choose: () => undefined,
    tell: async () => ({ done: true }), sound: async () => ({ screens: 0 }), onPlay: () => () => undefined,
    send: async () => (query.has('lost')
      ? { done: false, sentence: 'No connection: that tap was not sent. Press again when it is back.', reason: 'offline' }
      : { done: false, sentence: 'That moment has passed. Look again, then press.', reason: 'too-late' }),
  };
}

async function pageOf(): Promise<ReactNode> {
  if (name === 'desk-home') return <Home />;
  if (name === 'pair') return <Pair code={query.get('code')} why={null} onPaired={() => undefined} />;
  const got = await ask('/api/movements', movementsSchema);
  const library = libraryOf('ok' in got ? got.ok.movements : []);
  if (name === 'choose') return <Pages room={roomOf(null, () => startAt, null)} library={library} />;
  const planId = states[name === 'desk-class' ? 'busy' : name === 'desk-running' ? 'still-running' : name]?.plan ?? '';
  const plan = await ask(`/api/plans/${planId}`, planSchema);
  if ('problem' in plan) return plan.problem;
  const hand = stateOf(name === 'desk-class' ? 'busy' : name === 'desk-running' ? 'still-running' : name, () => plan.ok, library.facts);
  if (name.startsWith('desk-')) {
    const held = report(hand.events, hand.now());
    return held && <main className="desk"><p><a href="/desk">All classes</a></p><ReportPage report={held} timeZone={timeZone} /></main>;
  }
  const session = hand.session();
  return <Pages room={roomOf(session, hand.now, session.headCount ?? 14)} library={library} />;
}

const root = document.getElementById('root');
if (name.startsWith('desk-')) await import('../desk/desk.css');
else {
  await import('../phone/phone.css');
  await import('../phone/class/class.css');
}
if (root) {
  const page = await pageOf();
  createRoot(root).render(<StrictMode>{page}</StrictMode>);
  document.documentElement.dataset.ready = 'true';
}
