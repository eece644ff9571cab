/** Owns what an event leaves on the intervals it names, beside what the plan said of them. */
import type { Interval } from '../plan/interval.ts';
import type { Event, EventType } from '../session/command.ts';

/** What became of one interval beside what the plan said. */
export type Mark =
  | { readonly what: 'extended' | 'shortened'; readonly byMs: number }
  /** Left before its end: that much of it was not done. */
  | { readonly what: 'cut'; readonly byMs: number }
  | { readonly what: 'repeated'; readonly times: number }
  /** Taken out of the list before it began, and by what. */
  | { readonly what: 'out'; readonly by: EventType }
  | { readonly what: 'added' | 'waited' | 'skipped' | 'not-reached' | 'to-come' | 'runs' };

/** What an event does to the intervals it names, and to the one that it leaves. */
export function marksOf(event: Event, interval: Interval | null, leftMs: number): { id: string; mark: Mark }[] {
  const cut = interval && leftMs > 0 ? [{ id: interval.id, mark: { what: 'cut', byMs: leftMs } as const }] : [];
  switch (event.type) {
    case 'extended': return event.changes.map((c) => ({ id: c.interval, mark: { what: 'extended', byMs: c.byMs } }));
    case 'shortened': return event.changes.map((c) => ({ id: c.interval, mark: { what: 'shortened', byMs: -c.byMs } }));
    case 'readied': return event.byMs > 0 ? [{ id: event.interval, mark: { what: 'shortened', byMs: event.byMs } }] : [];
    case 'waited': return [{ id: event.interval, mark: { what: 'waited' } }];
    case 'sides-changed': {
      const { other } = event;
      return other && other.byMs < 0 ? [...cut, { id: other.interval, mark: { what: 'shortened', byMs: -other.byMs } }] : cut;
    }
    case 'moved-on':
    case 'cooled-down':
    case 'ended': return cut;
    case 'round-dropped': case 'round-added': case 'left-out': case 'changed': case 'break-inserted':
    case 'show-lengthened': case 'repeated': case 'way-taken':
      return event.edit.changes.filter((c) => c.byMs !== 0).map((c) => ({
        id: c.interval, mark: { what: c.byMs > 0 ? 'extended' : 'shortened', byMs: Math.abs(c.byMs) },
      }));
    // What it took back leaves no mark: its opposite is booked on it (summed).
    case 'undone': return event.edit.changes.filter((c) => c.byMs !== 0).map((c) => ({
      id: c.interval, mark: { what: c.byMs > 0 ? 'shortened' : 'extended', byMs: -Math.abs(c.byMs) },
    }));
    case 'started': case 'went': case 'paused': case 'reason-given': case 'carried-on': case 'went-back':
    case 'evened-up': case 'noted': case 'counted-heads':
    case 'kept-moving': case 'stopped': case 'stop-answered': case 'stop-stamped': case 'came-back': return [];
  }
}

/** Marks of one kind with a length are one mark. */
export function summed(marks: readonly Mark[]): Mark[] {
  const out: Mark[] = [];
  for (const mark of marks) {
    const k = out.findIndex((m) => m.what === mark.what);
    const known = out[k];
    if (known && 'byMs' in known && 'byMs' in mark) out[k] = { ...known, byMs: known.byMs + mark.byMs };
    else if (!known) out.push(mark);
  }
  return out.filter((m) => !('byMs' in m) || m.byMs !== 0);
}
