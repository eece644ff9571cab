/**
 * Owns the edge of a room: each room has a pattern of its own, on its screen
 * before a class and always on its phones, so that nobody pauses the class next door.
 */
import './edge.css';

export function Edge({ pattern }: { readonly pattern: number }) {
  return <div className="edge" data-pattern={pattern % PATTERNS} aria-hidden />;
}

/** As many as `roomSchema` allows. */
const PATTERNS = 8;
