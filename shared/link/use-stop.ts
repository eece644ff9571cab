/**
 * Owns the React hook of the stop on one device, phone or screen: a press holds here at
 * once; it is told to the server now, or as soon as the network is back, because a room
 * that is stopped is no tap that is over (rule W4 is about those).
 */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { StopAnswer, StopStamp } from '../session/session.ts';
import { between, type ServerAt, serverAt } from '../time/units.ts';
import { answerHere, type OwnStop, ownStop, owes, stampHere, type StopIn, stopIn, withOwn } from './own-stop.ts';
import type { Room, Sent } from './types.ts';

/** What is owed is told so often until it is known there. */
const AGAIN_MS = 500;
/** While a room is stopped its times are counted by the second. */
const LOOK_MS = 250;

export interface StopHere {
  /** What the server said, with what this device knows laid over it: show and sound this one. */
  readonly room: Room;
  /** Null where the room is not stopped. */
  readonly now: StopIn | null;
  /** How long it has been stopped, and how long ago the stamps were made; milliseconds. */
  readonly lengthMs: number;
  readonly calledMs: number | null;
  readonly hereMs: number | null;
  /** The server does not know of it yet: no network, or it has just been pressed. */
  readonly alone: boolean;
  /** Led back without the network: the class is held paused here until the server has heard. */
  readonly held: boolean;
  readonly press: () => void;
  readonly answer: (what: StopAnswer) => void;
  readonly stamp: (what: StopStamp) => void;
  /** "It was a slip", and the way back. */
  readonly back: () => void;
}

export function useStop(room: Room): StopHere {
  const [own, setOwn] = useState<OwnStop | null>(null);
  const [, look] = useState(0);
  const latest = useRef({ room, own });
  latest.current = { room, own };
  const sending = useRef(false);
  const here = useMemo(() => withOwn(room, own), [room, own]);
  const at = room.now() ?? serverAt(0);
  const now = stopIn(here, at);

  const keep = useCallback((next: OwnStop | null) => {
    latest.current = { ...latest.current, own: next };
    setOwn(next);
  }, []);

  /** Tells the server what it does not know, one thing after another; what it knows is no longer kept here. */
  const tell = useCallback(async () => {
    if (sending.current) return;
    sending.current = true;
    try {
      for (;;) {
        const { room: r, own: mine } = latest.current;
        if (!mine || r.link.state !== 'live') return;
        const command = owes(r, mine, r.now() ?? serverAt(0));
        if (command === null) {
          keep(null);
          return;
        }
        const sent: Sent = await r.send(command);
        if (!sent.done) return;
        // The news of it came before its answer, and React is about to show it.
        await new Promise((resolve) => setTimeout(resolve, 0));
        if (latest.current.own === mine && owes(latest.current.room, mine, latest.current.room.now() ?? serverAt(0)) !== null) return;
      }
    } finally {
      sending.current = false;
    }
  }, [keep]);

  const owed = own !== null;
  const live = room.link.state === 'live';
  useEffect(() => {
    if (!owed || !live) return;
    const timer = setInterval(() => void tell(), AGAIN_MS);
    return () => clearInterval(timer);
  }, [owed, live, tell]);
  const ticks = now !== null || owed;
  useEffect(() => {
    if (!ticks) return;
    const timer = setInterval(() => look((n) => n + 1), LOOK_MS);
    return () => clearInterval(timer);
  }, [ticks]);

  const change = (how: (mine: OwnStop, at: ServerAt) => OwnStop) => {
    const { room: r, own: mine } = latest.current;
    const when = r.now() ?? serverAt(0);
    const known = stopIn(withOwn(r, mine), when);
    if (!known) return;
    const said = r.session?.pause?.stop ?? r.about?.people.stop;
    keep(how(mine ?? { ...known, answer: said?.answer ?? null, back: false }, when));
    void tell();
  };

  return {
    room: here, now,
    lengthMs: now ? Math.max(0, between(now.since, at)) : 0,
    calledMs: now?.helpCalledAt ? Math.max(0, between(now.helpCalledAt, at)) : null,
    hereMs: now?.helpHereAt ? Math.max(0, between(now.helpHereAt, at)) : null,
    alone: own !== null && !own.back && stopIn(room, at) === null,
    held: own?.back ?? false,
    press: () => {
      const { room: r, own: mine } = latest.current;
      const when = r.now() ?? serverAt(0);
      if (stopIn(withOwn(r, mine), when)) return;
      keep(ownStop(when));
      void tell();
    },
    answer: (what) => change((mine) => answerHere(mine, what)),
    stamp: (what) => change((mine, when) => stampHere(mine, what, when)),
    back: () => change((mine) => ({ ...mine, back: true })),
  };
}
