/** Owns the one switch that silences all that signals sound through, which loads later than whoever turns it. */

let muted = false;
let turn: ((muted: boolean) => void) | null = null;

export function mute(now: boolean): void {
  muted = now;
  turn?.(now);
}

/** Says how it is done, once that can be done. */
export function mutedBy(how: (muted: boolean) => void): void {
  turn = how;
  if (muted) how(true);
}
