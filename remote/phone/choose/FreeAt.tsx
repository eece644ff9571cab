/** Owns choosing when the floor must be free: not at all, in so many minutes, or at a time. */
import type { ServerAt } from '../../../shared/time/units.ts';
import { after } from '../../../shared/time/units.ts';
import { nextTime } from './free-at.ts';

/** What was chosen; a number of minutes counts from the start itself. */
export type Free = { readonly how: 'none' } | { readonly how: 'in'; readonly min: number } | { readonly how: 'at'; readonly hhmm: string };

const CHOICES_MIN = [30, 45, 60] as const;
const MINUTE_MS = 60_000;

export function freeAtOf(free: Free, timeZone: string, now: ServerAt): ServerAt | null {
  switch (free.how) {
    case 'none': return null;
    case 'in': return after(now, free.min * MINUTE_MS);
    case 'at': return free.hhmm === '' ? null : nextTime(free.hhmm, timeZone, now);
  }
}

export function FreeAt({ free, onChoose }: { free: Free; onChoose: (free: Free) => void }) {
  return (
    <fieldset className="free">
      <legend>When must the floor be free?</legend>
      <button type="button" className="control" aria-pressed={free.how === 'none'} onClick={() => onChoose({ how: 'none' })}>Any time</button>
      {CHOICES_MIN.map((min) => (
        <button key={min} type="button" className="control" aria-pressed={free.how === 'in' && free.min === min} onClick={() => onChoose({ how: 'in', min })}>
          in {min} min
        </button>
      ))}
      <label className="control at" data-pressed={free.how === 'at'}>
        at <input type="time" value={free.how === 'at' ? free.hhmm : ''} onChange={(e) => onChoose(e.target.value === '' ? { how: 'none' } : { how: 'at', hhmm: e.target.value })} />
      </label>
    </fieldset>
  );
}
