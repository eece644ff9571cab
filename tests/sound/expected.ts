/**
 * Owns what must be heard and read in a class that is over, told from its log alone: by walking
 * through its events and never through the player that the screens use. Leaves alone recording.
 */
import type { Session } from '../../shared/session/session.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { CAPTION_MS, captionOf, giveWay, isDigit, keyOf, LEAD_MS, type Signal } from '../../shared/view/signal-kinds.ts';
import { candidates, signalOfCommand, type SignalOptions } from '../../shared/view/signals.ts';

export interface Expected extends Signal {
  /** A command said it, so that it could not be planned ahead of that. */
  readonly byHand: boolean;
}

/** Longer than any class that is recorded. */
const END_MS = 600_000;

/** @param log the class after each of its events (rules C140, C141) */
export function expectedOf(log: readonly Session[], options: SignalOptions): readonly Expected[] {
  const hands = new Set<ServerAt>();
  const all = log.flatMap((session, i): readonly Signal[] => {
    const [before, next] = [log[i - 1], log[i + 1]];
    const soon = after(session.lastAt, LEAD_MS);
    hands.add(soon);
    const said = before && signalOfCommand(before, session);
    const known = new Set(before ? candidates(before, session.lastAt, soon, options).map(keyOf) : []);
    const news = [...candidates(session, session.lastAt, soon, options).filter((s) => !known.has(keyOf(s))), ...(said ? [said] : [])];
    return [...news.map((s) => ({ ...s, at: soon })), ...candidates(session, soon, next ? after(next.lastAt, LEAD_MS) : after(soon, END_MS), options)];
  });
  return giveWay(all).map((s) => ({ ...s, byHand: hands.has(s.at) }));
}

export interface Reading { readonly text: string; readonly from: ServerAt; readonly to: ServerAt }

const STEP_MS = 5;

/** What stands in the corner for those who do not hear, and for how long (rule C11); digits are not words. */
export function readingsOf(signals: readonly Signal[]): readonly Reading[] {
  const found: { text: string; from: ServerAt; to: ServerAt }[] = [];
  const [first, last] = [signals[0], signals.at(-1)];
  if (!first || !last) return [];
  for (let at = first.at; at <= after(last.at, CAPTION_MS + STEP_MS); at = after(at, STEP_MS)) {
    const shown = captionOf(signals.filter((s) => s.at <= at), at);
    if (!shown || isDigit(shown.kind)) continue;
    const open = found.at(-1);
    if (open && open.text === shown.caption && at - open.to <= STEP_MS) open.to = at;
    else found.push({ text: shown.caption, from: at, to: at });
  }
  return found;
}
