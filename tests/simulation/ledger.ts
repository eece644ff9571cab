/** Owns what must hold of a class at one instant and from one look to the next (rules L1 to L6, L9). */
import { finish } from '../../shared/session/finish.ts';
import { ledger } from '../../shared/session/ledger.ts';
import { occurrenceOf, placeAt, remainingMs } from '../../shared/session/place.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, later, type ServerAt } from '../../shared/time/units.ts';
import { signalsBetween } from '../../shared/view/signals.ts';
import { view } from '../../shared/view/view.ts';

export interface Wrong { readonly rule: string; readonly sentence: string }

const sum = (o: object): number => Object.values(o).reduce((a: number, b: number) => a + b, 0);

export function classHolds(session: Session, when: ServerAt): Wrong | null {
  const at = later(when, session.lastAt);
  const place = placeAt(session, at);
  const { accounts, sums } = ledger(session, at);
  const passed = (place.over?.at ?? at) - session.startedAt;
  if (sum(accounts) !== passed) return { rule: 'L1', sentence: `the accounts hold ${sum(accounts)} ms of ${passed}` };
  const has = sums.elapsed + remainingMs(session, place);
  const owes = sums.planned + sums.extended + sums.added + sums.repeated - sums.skipped - sums.dropped;
  if (has !== owes) return { rule: 'L2', sentence: `elapsed and remaining are ${has} ms, planned and changed ${owes}` };
  if (session.pause?.stop && !place.over) {
    const wrong = stoppedHolds(session, at);
    if (wrong) return { rule: 'S101', sentence: wrong };
  }
  const f = finish(session, at);
  const endAt = place.over ? place.over.at : at + f.countInMs + f.remainingMs + f.openMs;
  return f.endAt === endAt ? null : { rule: 'L3', sentence: `the projected end is ${f.endAt - endAt} ms off its parts` };
}

/** While a room is stopped nothing counts, sounds or is about to. */
function stoppedHolds(session: Session, at: ServerAt): string | null {
  const v = view(session, at);
  if (v.stopped === null || v.seconds !== null || v.closing || v.tide.left !== 'none' || v.tide.right !== 'none') return 'a stopped room shows seconds or a tide';
  if (placeAt(session, at).countInMs > 0) return 'a count-in runs in a stopped room';
  const sounds = signalsBetween(session, after(at, -1_000), after(at, 600_000), { halfway: true });
  return sounds.length === 0 ? null : `a stopped room would sound ${sounds[0]?.kind ?? ''}`;
}

/** Watches one class from look to look. */
export class Watched {
  private before: { session: Session; remaining: number; endAt: number } | null = null;
  /** Names that were left, and when that was seen. */
  private readonly left = new Map<string, number>();
  private here = '';
  private enteredAt = 0;

  look(session: Session, when: ServerAt): Wrong | null {
    const at = later(when, session.lastAt);
    const place = placeAt(session, at);
    const name = `${session.id} ${occurrenceOf(session, place.index)}`;
    // A pause that the disk held up counts from its press: what was shown meanwhile was never left.
    if (this.before?.session !== session) for (const [old, leftAt] of this.left) if (leftAt > session.lastAt) this.left.delete(old);
    if (name !== this.here) {
      if (this.left.has(name)) return { rule: 'L9', sentence: `${name} came back` };
      const wasThere = this.before?.session === session || this.enteredAt <= session.lastAt;
      if (this.here !== '' && !place.over && wasThere) this.left.set(this.here, at);
      this.here = name;
      this.enteredAt = at;
    }
    const now = { session, remaining: remainingMs(session, place), endAt: finish(session, at).endAt as number };
    const { before } = this;
    this.before = now;
    if (before?.session !== session) return null;
    if (now.remaining > before.remaining) return { rule: 'L6', sentence: `what remains grew by ${now.remaining - before.remaining} ms by itself` };
    const waits = session.pause || place.over || session.intervals[place.index]?.ends === 'go';
    if (now.endAt < before.endAt && !place.over) return { rule: 'L6', sentence: `the projected end came nearer by ${before.endAt - now.endAt} ms by itself` };
    return now.endAt > before.endAt && !waits && !before.session.intervals.some((i) => i.ends === 'go')
      ? { rule: 'L6', sentence: 'the projected end moved later by itself' } : null;
  }
}
