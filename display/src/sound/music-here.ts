/** Owns the music player on this page's audio context, which is there once the signals are. Loads with them, apart from the page. */
import { Howler } from 'howler';
import { createMusic, type MusicPlayer } from './music-player.ts';

/** Null where the browser has no Web Audio. */
export const musicHere = (needs: Omit<Parameters<typeof createMusic>[0], 'ctx'>): MusicPlayer | null =>
  (Howler.usingWebAudio ? createMusic({ ...needs, ctx: Howler.ctx }) : null);
