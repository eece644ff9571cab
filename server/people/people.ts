/**
 * Owns what is kept of a room's people: who is here today, the door check, handing over.
 * In memory and nowhere else: nothing here is written, logged or printed, and what people
 * said at the door is gone with the class. Time and chance are handed in.
 */
import { HAND_OVER_MS, HERE_KEPT_MS, NO_PHONE_MS, PICTURE_SHOWN_MS } from '../../shared/limits.ts';
import { type Here, nobodyYet } from '../../shared/session/here.ts';
import { placeAt } from '../../shared/session/place.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, between, type ServerAt } from '../../shared/time/units.ts';
import { type DoorPicture, pickPicture } from '../../shared/view/door-pictures.ts';
import type { Tell, Told } from '../../shared/wire/messages/tell.ts';

export interface RoomPeople {
  /** @param phone public name of the phone that says it */
  readonly tell: (message: Exclude<Tell, { do: 'hand-over' }>, phone: string, now: ServerAt) => Told;
  readonly handOver: (now: ServerAt) => void;
  /** A phone was let in with the code while a class ran: it leads from now on. */
  readonly takenOver: (phone: string) => void;
  /** A class was started by a phone, or without one; said again it changes nothing. */
  readonly started: (phone: string | null, session: string) => void;
  /** Whether a phone leads the class that runs, or has led it; any may where no phone has. */
  readonly mayLead: (phone: string | null, session: Session | null, now: ServerAt) => boolean;
  readonly here: () => Here;
  readonly lead: () => string | null;
  readonly picture: (now: ServerAt) => DoorPicture | null;
  /** The class stands so; what belongs to one that is over is forgotten. */
  readonly follow: (session: Session | null, now: ServerAt) => void;
  /** So many phones are there. */
  readonly phones: (count: number, now: ServerAt) => void;
  /** Whether the screen shows the code on the class. */
  readonly asksForPhone: (session: Session | null, now: ServerAt) => boolean;
  /** When something here changes by itself next, at the latest; null where nothing will. */
  readonly nextAt: (session: Session | null, now: ServerAt) => ServerAt | null;
}

/** To a phone that was paired earlier: its token opens the room, and the code on the screen this class. */
export const ledByAnother = 'Another phone runs this class. To take it over, type the code that the screen shows in a pause.';

/** While nobody has a phone, whether a go is due is looked at so often. */
const LOOK_MS = 2_000;

/** Whether the class waits for a word that only an instructor can say, and nobody is working. */
export function goIsDue(session: Session | null, now: ServerAt): boolean {
  const place = session ? placeAt(session, now) : null;
  const interval = session?.intervals[place?.index ?? -1];
  if (!session || !place || place.over || !interval) return false;
  if (session.pause) return true;
  if (interval.ends !== 'go' || place.countInMs > 0) return false;
  return interval.kind !== 'work' || place.elapsedMs >= interval.lengthMs;
}

export function openPeople(chance: () => number): RoomPeople {
  let here: Here = nobodyYet;
  let hereAt: ServerAt | null = null;
  let shown: { readonly picture: DoorPicture; readonly among: readonly DoorPicture[]; readonly until: ServerAt } | null = null;
  let lead: string | null = null;
  /** Phones that started the class that runs, or were let in with the code while it ran. */
  let led: ReadonlySet<string> = new Set();
  let ledIn: string | null = null;
  let handOverUntil: ServerAt | null = null;
  let goneSince: ServerAt | null = null;
  /** The class whose end has been forgotten already: what is said after it is for the next one. */
  let ended: string | null = null;

  const said = (next: Here, now: ServerAt): Told => {
    here = next;
    hereAt = now;
    return { done: true };
  };
  const runsAt = (session: Session | null, now: ServerAt) => session !== null && placeAt(session, now).over === null;
  const handsOver = (now: ServerAt) => handOverUntil !== null && now < handOverUntil;

  return {
    tell: (message, phone, now) => {
      switch (message.do) {
        case 'here': return said({ ...here, counts: { ...here.counts, [message.what]: message.n } }, now);
        case 'heads': return said({ ...here, heads: message.n }, now);
        case 'late': return said({ ...here, heads: (here.heads ?? 0) + 1, late: [...here.late, now] }, now);
        case 'picture': {
          shown = { ...pickPicture(chance), until: after(now, PICTURE_SHOWN_MS) };
          return { done: true, picture: shown.picture, among: [...shown.among] };
        }
        case 'picture-done': shown = null; return { done: true };
        case 'lead':
          if (led.size > 0 && !led.has(phone)) return { sentence: ledByAnother };
          lead = phone;
          return { done: true };
      }
    },
    handOver: (now) => { handOverUntil = after(now, HAND_OVER_MS); },
    takenOver: (phone) => {
      lead = phone;
      led = new Set([...led, phone]);
      handOverUntil = null;
    },
    started: (phone, session) => {
      if (session === ledIn) return;
      ledIn = session;
      lead = phone;
      led = new Set(phone === null ? [] : [phone]);
    },
    mayLead: (phone, session, now) => !runsAt(session, now) || led.size === 0 || (phone !== null && led.has(phone)),
    here: () => here,
    lead: () => lead,
    picture: (now) => (shown && now < shown.until ? shown.picture : null),
    follow: (session, now) => {
      const stale = hereAt !== null && !runsAt(session, now) && between(hereAt, now) >= HERE_KEPT_MS;
      const over = session !== null && session.id !== ended && !runsAt(session, now);
      if (over) ended = session.id;
      if (over) lead = null;
      if (!over && !stale) return;
      here = nobodyYet;
      hereAt = null;
    },
    phones: (count, now) => { goneSince = count > 0 ? null : (goneSince ?? now); },
    asksForPhone: (session, now) => {
      if (!runsAt(session, now)) return false;
      const alone = goneSince !== null && between(goneSince, now) >= NO_PHONE_MS;
      return (handsOver(now) || alone) && goIsDue(session, now);
    },
    nextAt: (session, now) => {
      const times = [shown && now < shown.until ? shown.until : null, hereAt === null || runsAt(session, now) ? null : after(hereAt, HERE_KEPT_MS)];
      if (runsAt(session, now) && (goneSince !== null || handsOver(now))) {
        const from = goneSince === null ? now : after(goneSince, NO_PHONE_MS);
        times.push(from > now ? from : after(now, LOOK_MS));
      }
      const due = times.filter((t) => t !== null) as ServerAt[];
      return due.length === 0 ? null : (Math.min(...due) as ServerAt);
    },
  };
}
