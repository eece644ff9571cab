/**
 * Owns the sound of one screen from class to loudspeaker: follows the session,
 * keeps the next seconds on the audio clock, says whether the room can hear it.
 * Leaves alone React (use-sound.ts) and which signals there are (shared/view).
 */
import { Howler } from 'howler';
import type { Session } from '../../../shared/session/session.ts';
import { after, type ServerAt } from '../../../shared/time/units.ts';
import { LATE_MS, type Signal, type SignalKind, signalKinds } from '../../../shared/view/signal-kinds.ts';
import { captionNow, due, follow, newPlayer, type Player, upcoming } from '../../../shared/view/signal-player.ts';
import { view } from '../../../shared/view/view.ts';
import { movementName } from '../../../shared/view/words.ts';
import { aheadMs, type Reading, read, withReading } from './audio-time.ts';
import { HORIZON_MS, Schedule } from './schedule.ts';
import { gainOf, loadSettings, type SoundSettings, saveSettings } from './settings.ts';
import { loadSprite, type Sprite } from './sprite.ts';
import { hush, maySpeak, SPEAK_MS, speak, spoken } from './voice.ts';

/** Off: it will not sound (silent, loading, or a problem). Locked: the browser waits for a touch. */
export type SoundState = 'off' | 'locked' | 'on';

export interface SoundNow {
  readonly state: SoundState;
  /** What is wrong, in a sentence; null if nothing is. */
  readonly problem: string | null;
  /** The caption of the newest signal, while it is read. */
  readonly caption: string | null;
  /** The signal that the sound test plays. */
  readonly testing: SignalKind | null;
  readonly settings: SoundSettings;
}

export interface Sound {
  follow(session: Session | null, seq: number): void;
  unlock(): Promise<void>;
  test(): Promise<void>;
  change(settings: Partial<SoundSettings>): void;
  now(): SoundNow;
  subscribe(listener: () => void): () => void;
  close(): void;
}

/** Often enough for captions, and half a second of it makes a second's worth of readings. */
const TICK_MS = 50;
const TEST_GAP_MS = 700;
/** A start needs this much room to be exact. */
const LEAD_MS = 5;

/** @param rate how many times as fast as the device's clock the class runs: 1, but for a rehearsal */
export function createSound(pattern: number, serverNow: () => ServerAt | null, rate: () => number = () => 1): Sound {
  const listeners = new Set<() => void>();
  let settings = loadSettings();
  let player: Player = newPlayer;
  /** The class as it was last said; followed as soon as the time is known. */
  let said: { readonly session: Session | null; readonly seq: number } = { session: null, seq: 0 };
  let sprite: Sprite | null = null;
  let schedule: Schedule | null = null;
  let readings: readonly Reading[] = [];
  let problem: string | null = null;
  let testing: SignalKind | null = null;
  let closed = false;
  let shown: SoundNow = { state: 'off', problem, caption: null, testing, settings };

  const running = (): boolean => (sprite?.exact ? sprite.exact.ctx.state === 'running' : sprite !== null);
  const state = (): SoundState => (problem !== null || !sprite || settings.volume === 'silent' ? 'off' : running() ? 'on' : 'locked');

  function show(caption: string | null): void {
    const next: SoundNow = { state: state(), problem, caption, testing, settings };
    if ((Object.keys(next) as (keyof SoundNow)[]).every((k) => next[k] === shown[k])) return;
    shown = next;
    for (const listener of listeners) listener();
  }

  function begin({ exact }: Sprite, kind: SignalKind, atAudioMs: number): () => void {
    const [offsetMs, lengthMs] = sprite?.map[kind] ?? [0, 0];
    if (!exact) return () => undefined;
    const source = exact.ctx.createBufferSource();
    source.buffer = exact.buffer;
    source.connect(exact.out);
    source.onended = () => source.disconnect();
    source.start(atAudioMs / 1_000, offsetMs / 1_000, lengthMs / 1_000);
    return () => {
      source.stop();
      source.disconnect();
    };
  }

  /** Puts the next seconds on the audio clock. */
  function plan(now: ServerAt): void {
    const exact = sprite?.exact;
    if (!exact || !schedule || testing) return;
    if (exact.ctx.state !== 'running') {
      // The audio clock stands still: what lies on it would come late, all at once.
      schedule.clear();
      readings = [];
      return;
    }
    const deviceMs = performance.now();
    readings = withReading(readings, read(exact.ctx, deviceMs));
    const ahead = aheadMs(readings) ?? 0;
    const toAudioMs = (signal: Signal) => deviceMs + (signal.at - now) / rate() + ahead - settings.correctionMs;
    // With a slow output a sound must start before its instant comes.
    schedule.update(upcoming(player, after(now, -LATE_MS), after(now, HORIZON_MS * rate()), settings), toAudioMs);
  }

  function tick(): void {
    const now = serverNow();
    if (closed || now === null) return;
    player = follow(player, said.session, said.seq, settings, now);
    plan(now);
    const step = due(player, settings, now);
    player = step.player;
    for (const signal of step.signals) {
      if (sprite && !sprite.exact) sprite.howl.play(signal.kind);
      say(signal, now);
    }
    show(captionNow(player, now)?.caption ?? null);
  }

  function say(signal: Signal, now: ServerAt): void {
    if (signal.kind === 'three' || signal.kind === 'paused') hush();
    if (!settings.voice || !player.session || state() !== 'on') return;
    const words = spoken(signal, movementName(player.session, view(player.session, now).movement));
    if (words && maySpeak(upcoming(player, after(now, 1), after(now, SPEAK_MS), settings))) speak(words, settings, gainOf(settings.volume));
  }

  async function test(): Promise<void> {
    const exact = sprite?.exact;
    if (!sprite || !exact || testing || exact.ctx.state !== 'running') return;
    schedule?.clear();
    for (const kind of [...signalKinds].reverse()) {
      if (closed) break;
      testing = kind;
      show(shown.caption);
      begin(sprite, kind, exact.ctx.currentTime * 1_000 + LEAD_MS);
      await new Promise((resolve) => setTimeout(resolve, sprite ? sprite.map[kind][1] + TEST_GAP_MS : 0));
    }
    testing = null;
    show(shown.caption);
  }

  const timer = setInterval(tick, TICK_MS);
  loadSprite(pattern).then((loaded) => {
    if (closed) return;
    sprite = loaded;
    const { exact } = loaded;
    Howler.volume(gainOf(settings.volume));
    if (exact) {
      schedule = new Schedule({
        start: (kind, atAudioMs) => begin(loaded, kind, atAudioMs),
        nowMs: () => exact.ctx.currentTime * 1_000 + LEAD_MS,
      });
      exact.ctx.onstatechange = tick;
    }
    tick();
    show(shown.caption);
  }, (error: unknown) => {
    problem = error instanceof Error ? error.message : 'The sounds could not be loaded. Reload the page.';
    show(null);
  });

  return {
    follow(session, seq) {
      said = { session, seq };
      tick();
    },
    async unlock() {
      await sprite?.exact?.ctx.resume();
      tick();
      show(shown.caption);
    },
    test,
    change(part) {
      settings = { ...settings, ...part };
      saveSettings(settings);
      Howler.volume(gainOf(settings.volume));
      if (settings.volume === 'silent' || !settings.voice) hush();
      tick();
      show(shown.caption);
    },
    now: () => shown,
    subscribe(listener) {
      listeners.add(listener);
      return () => { listeners.delete(listener); };
    },
    close() {
      closed = true;
      clearInterval(timer);
      schedule?.clear();
      hush();
      sprite?.howl.unload();
    },
  };
}
