/** Owns which track comes next: in order, or shuffled so that all have been before one comes again. Pure; chance is handed in. */
export interface Playlist {
  /** Shuffled: those that have not had their turn in this round. */
  readonly left: readonly string[];
  readonly last: string | null;
}
export const newPlaylist: Playlist = { left: [], last: null };

/** @param tracks those that can be played, in the studio's order @param chance 0 to 1, as Math.random */
export function nextTrack(p: Playlist, tracks: readonly string[], order: 'shuffled' | 'fixed', chance: () => number): { readonly playlist: Playlist; readonly track: string | null } {
  if (tracks.length === 0) return { playlist: newPlaylist, track: null };
  if (order === 'fixed') {
    const track = tracks[(p.last === null ? 0 : tracks.indexOf(p.last) + 1) % tracks.length] ?? null;
    return { playlist: { left: [], last: track }, track };
  }
  const left = p.left.filter((t) => tracks.includes(t));
  const round = left.length > 0 ? left : tracks;
  // A new round does not begin with what was just heard.
  const choice = round.length > 1 ? round.filter((t) => t !== p.last) : round;
  const track = choice[Math.floor(chance() * choice.length)] ?? null;
  return { playlist: { left: round.filter((t) => t !== track), last: track }, track };
}
