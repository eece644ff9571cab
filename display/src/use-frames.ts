/**
 * Owns the one loop of the screen. At every frame it asks what it is now: tide and
 * notch are moved without React; words are drawn anew only when the view's next
 * edge has passed or the class has changed.
 */
import { useRef, useState } from 'react';
import type { Room } from '../../shared/link/types.ts';
import type { Session } from '../../shared/session/session.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import { useFrames } from '../../shared/ui/wall/use-frames.ts';
import { type View, view } from '../../shared/view/view.ts';

/** What the words show now. `paint` gets what tide and notch show, at every frame. */
export function useView(session: Session, now: Room['now'], paint: (v: View) => void): View | null {
  const [edge, passEdge] = useState<ServerAt | null>(null);
  const shown = useRef<{ session: Session; edge: ServerAt | null; view: View } | null>(null);
  if (shown.current?.session !== session || shown.current.edge !== edge) {
    const at = now();
    shown.current = at === null ? null : { session, edge, view: view(session, at) };
  }
  useFrames(() => {
    const at = now();
    if (at === null) return;
    const v = view(session, at);
    const next = shown.current?.view.nextEdgeAt;
    if (!shown.current || (next !== null && next !== undefined && at >= next)) passEdge(at);
    paint(v);
  });
  return shown.current?.view ?? null;
}
