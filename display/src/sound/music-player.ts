/**
 * Owns the studio's music at this screen: which track, fading from one to the next, quiet
 * when asked, back when a signal sounds. Leaves alone React (use-music.ts), the curve under
 * the signals (ducks.ts) and what the room wants of it.
 */
import { MUSIC_STEPS, type RoomSound } from '../../../shared/wire/messages/sound.ts';
import { type Deck, openDeck } from './deck.ts';
import { corners, onto, type Point, type Sounding, withPlanned } from './ducks.ts';
import { newPlaylist, nextTrack } from './playlist.ts';

/** From one track to the next: long enough to be no cut, short enough to lose little of either (common practice, no source). */
export const BETWEEN_MS = 3_000;
const SKIP_MS = 600;
const QUIET_MS = 500;
const BACK_MS = 1_500;
/** Decibels of one step of the volume; the highest is the file as it is. */
const STEP_DB = 3;
const TICK_MS = 200;

/** How long one track goes over into the next; a short one does not go before half of it was heard. */
export const fadeOf = (lengthMs: number): number => Math.min(BETWEEN_MS, lengthMs / 2);

export const gainOfStep = (step: number): number => (step <= 0 ? 0 : 10 ** (((step - MUSIC_STEPS) * STEP_DB) / 20));
const linear = (db: number): number => 10 ** (db / 20);

export interface MusicNeeds {
  readonly ctx: AudioContext;
  readonly wants: () => RoomSound['music'];
  /** Whether it plays here at all. */
  readonly plays: () => boolean;
  /** Whether the room is to be quiet just now: paused, or somebody shows. */
  readonly quiet: () => boolean;
  readonly tracks: () => Promise<readonly string[]>;
  readonly playing: (file: string | null) => void;
  readonly broken: (file: string) => void;
}

export interface MusicPlayer {
  readonly skip: () => void;
  readonly planned: (sounds: readonly Sounding[]) => void;
  /** Off at once, without fading, for as long as the room is stopped. */
  readonly cut: (off: boolean) => void;
  readonly close: () => void;
}

/** Gone in four times this: no click, and far less than a tenth of a second. */
const CUT_S = 0.01;

export function createMusic(needs: MusicNeeds): MusicPlayer {
  const { ctx } = needs;
  const duck = ctx.createGain();
  const volume = ctx.createGain();
  volume.gain.value = gainOfStep(needs.wants().volume);
  const last = ctx.createGain();
  duck.connect(volume).connect(last).connect(ctx.destination);
  const unplayable = new Set<string>();
  let playlist = newPlaylist;
  let deck: Deck | null = null;
  let leaving: Deck | null = null;
  let isQuiet = false;
  let pausing: ReturnType<typeof setTimeout> | null = null;
  let choosing = false;
  let known: Promise<readonly string[]> | null = null;
  let closed = false;
  let sounds: readonly Sounding[] = [];
  let curve: readonly Point[] = [];

  const leave = (ms: number) => {
    const gone = deck;
    if (!gone) return;
    leaving?.close();
    leaving = gone;
    deck = null;
    gone.fade(0, ms);
    setTimeout(() => {
      gone.close();
      if (leaving === gone) leaving = null;
    }, ms + 100);
  };

  async function next(wishedMs: number): Promise<void> {
    if (choosing || closed) return;
    choosing = true;
    // The list of the last time will do, so that going over begins at once; a file put there since comes a track later.
    const list = await (known ?? needs.tracks());
    known = needs.tracks();
    const tracks = list.filter((t) => !unplayable.has(t));
    choosing = false;
    if (closed || !needs.plays()) return;
    // What was asked for late still goes over before the track is at its end.
    const left = deck?.leftS() ?? null;
    const fadeMs = left === null ? wishedMs : Math.min(wishedMs, left * 1_000);
    leave(fadeMs);
    const step = nextTrack(playlist, tracks, needs.wants().order, Math.random);
    playlist = step.playlist;
    const file = step.track;
    needs.playing(file);
    if (file === null) return;
    const mine = openDeck(ctx, duck, file, () => {
      unplayable.add(file);
      needs.broken(file);
      if (deck !== mine) return;
      // What is still going over goes on doing so, into the next that can be played.
      mine.close();
      deck = null;
      void next(fadeMs);
    }, () => { if (deck === mine) void next(0); });
    deck = mine;
    if (!isQuiet) {
      mine.play();
      mine.fade(1, Math.max(fadeMs, QUIET_MS));
    }
  }

  function hush(quiet: boolean): void {
    if (quiet === isQuiet) return;
    isQuiet = quiet;
    if (pausing !== null) clearTimeout(pausing);
    pausing = null;
    const mine = deck;
    mine?.fade(quiet ? 0 : 1, quiet ? QUIET_MS : BACK_MS);
    if (quiet) pausing = setTimeout(() => mine?.pause(), QUIET_MS + 50);
    else mine?.play();
  }

  function tick(): void {
    const to = gainOfStep(needs.wants().volume);
    volume.gain.setTargetAtTime(to, ctx.currentTime, 0.05);
    if (!needs.plays()) {
      if (deck) {
        leave(QUIET_MS);
        needs.playing(null);
      }
      return;
    }
    hush(needs.quiet());
    if (!deck) {
      void next(0);
      return;
    }
    const [left, length] = [deck.leftS(), deck.lengthS()];
    if (isQuiet || left === null || length === null) return;
    const fadeMs = fadeOf(length * 1_000);
    if (left * 1_000 < fadeMs) void next(fadeMs);
  }

  const timer = setInterval(tick, TICK_MS);
  return {
    skip: () => { if (needs.plays()) void next(SKIP_MS); },
    planned: (coming) => {
      const nowMs = ctx.currentTime * 1_000;
      sounds = withPlanned(sounds, coming, nowMs);
      const wanted = corners(sounds);
      // The estimate of the clocks moves by a hair all the time; that is no new curve.
      if (wanted.length === curve.length && wanted.every(([t, db], i) => Math.abs(t - (curve[i]?.[0] ?? 0)) < 5 && db === curve[i]?.[1])) return;
      const { gain } = duck;
      gain.cancelScheduledValues(nowMs / 1_000);
      onto(curve, wanted, nowMs).forEach(([t, db], i) => {
        if (i === 0) gain.setValueAtTime(linear(db), t / 1_000);
        else gain.exponentialRampToValueAtTime(linear(db), t / 1_000);
      });
      curve = wanted;
    },
    cut: (off) => {
      last.gain.cancelScheduledValues(ctx.currentTime);
      last.gain.setTargetAtTime(off ? 0 : 1, ctx.currentTime, CUT_S);
    },
    close: () => {
      closed = true;
      clearInterval(timer);
      if (pausing !== null) clearTimeout(pausing);
      deck?.close();
      leaving?.close();
      duck.disconnect();
      volume.disconnect();
      last.disconnect();
    },
  };
}
