/** Owns reading off the kept events of one class how long its shows took. Runs in the worker. Leaves alone what is learned from it. */
import { type Event, eventSchema } from '../../shared/session/command.ts';
import { type ShowTime, showTimes } from '../../shared/session/learned.ts';

/** What cannot be understood teaches nothing; reading the class itself says what is wrong with it. */
export function showsIn(raw: readonly { readonly event: unknown }[]): ShowTime[] {
  const events: Event[] = [];
  for (const { event } of raw) {
    const read = eventSchema.safeParse(event);
    if (!read.success) return [];
    events.push(read.data);
  }
  try {
    return showTimes(events);
  } catch {
    return [];
  }
}
