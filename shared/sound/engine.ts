/**
 * Owns the signals of one device from class to loudspeaker: follows the session,
 * keeps the next seconds on the audio clock, says whether it can be heard.
 * Leaves alone React (use-sound.ts) and which signals there are (shared/view).
 */
import { Howler } from 'howler';
import type { Session } from '../session/session.ts';
import { after, type ServerAt } from '../time/units.ts';
import { isDigit, LATE_MS, type Signal, type SignalKind, signalKinds } from '../view/signal-kinds.ts';
import { captionNow, due, follow, newPlayer, type Player, upcoming } from '../view/signal-player.ts';
import { view } from '../view/view.ts';
import { movementName } from '../view/words.ts';
import type { Language } from '../words/language.ts';
import { english } from '../words/languages.ts';
import { aheadMs, type Reading, read, withReading } from './audio-time.ts';
import { mutedBy } from './mute.ts';
import { HORIZON_MS, Schedule } from './schedule.ts';
import { gainOf, loadSettings, type SoundSettings, saveSettings } from './settings.ts';
import { loadSprite, type Sprite, startOn } from './sprite.ts';
import { hush, maySpeak, speakMs, speak, spoken } from './voice.ts';

/** Off: it will not sound (silent, not wanted, loading, or a problem). Locked: the browser waits for a touch. */
export type SoundState = 'off' | 'locked' | 'on';

export interface SoundNow {
  readonly state: SoundState;
  /** What is wrong, in a sentence; null if nothing is. */
  readonly problem: string | null;
  /** Whether the caption is a beat of a count, which the digits show already. */
  readonly counts: boolean;
  /** The caption of the newest signal, while it is read. */
  readonly caption: string | null;
  /** The signal that the sound test plays. */
  readonly testing: SignalKind | null;
  readonly settings: SoundSettings;
}

/** When a signal sounds, on the audio clock. */
export interface Sounding { readonly fromMs: number; readonly toMs: number }

export interface SoundOptions {
  /** How many times as fast as the device's clock the class runs: 1, but for a rehearsal. */
  readonly rate?: () => number;
  /** Whether this device is to sound at all. */
  readonly wanted?: () => boolean;
  /** Whether signals are to sound from it just now; captions and buzzes come all the same. */
  readonly signals?: () => boolean;
  /** A signal's instant has come: for a buzz. */
  readonly given?: (signal: Signal) => void;
  /** What will sound in the next seconds: for whatever must give way to it. */
  readonly planned?: (sounds: readonly Sounding[]) => void;
  /** What captions are written and words spoken in; English where it is left out. */
  readonly language?: () => Language;
}

export interface Sound {
  follow(session: Session | null, seq: number): void;
  unlock(): Promise<void>;
  /** Plays every signal, or one. */
  test(kind?: SignalKind): Promise<void>;
  /** Sounds one signal so that it is heard at a moment of the device's clock, in milliseconds; says how to take it off again. */
  at(kind: SignalKind, deviceMs: number): () => void;
  change(settings: Partial<SoundSettings>): void;
  /** Looks again at what is wanted. */
  look(): void;
  now(): SoundNow;
  subscribe(listener: () => void): () => void;
  close(): void;
}

mutedBy((muted) => { Howler.mute(muted); });

/** Often enough for captions, and half a second of it makes a second's worth of readings. */
const TICK_MS = 50;
const TEST_GAP_MS = 700;
/** An audio clock that stands still for so long while it claims to run has no output behind it. */
const STUCK_MS = 2_000;
/** What can be wrong; the catalogue has the sentence. */
type Problem = 'noOutput' | 'notLoaded';

export function createSound(pattern: number, serverNow: () => ServerAt | null, options: SoundOptions = {}): Sound {
  const { rate = () => 1, wanted = () => true, signals = () => true, language = () => english } = options;
  const listeners = new Set<() => void>();
  let settings = loadSettings();
  let player: Player = newPlayer;
  /** The class as it was last said; followed as soon as the time is known. */
  let said: { readonly session: Session | null; readonly seq: number } = { session: null, seq: 0 };
  let sprite: Sprite | null = null;
  let loading = false;
  let schedule: Schedule | null = null;
  let readings: readonly Reading[] = [];
  let moved = { currentMs: -1, deviceMs: 0 };
  let problem: Problem | null = null;
  let testing: SignalKind | null = null;
  let closed = false;
  let shown: SoundNow = { state: 'off', problem: null, caption: null, counts: false, testing, settings };
  const how = () => ({ halfway: settings.halfway, language: language() });

  const running = (): boolean => (sprite?.exact ? sprite.exact.ctx.state === 'running' : sprite !== null);
  const state = (): SoundState =>
    (problem !== null || !sprite || !wanted() || settings.volume === 'silent' ? 'off' : running() ? 'on' : 'locked');

  function show(caption: string | null, counts = false): void {
    const next: SoundNow = { state: state(), problem: problem && language().say.sound[problem], caption, counts, testing, settings };
    if ((Object.keys(next) as (keyof SoundNow)[]).every((k) => next[k] === shown[k])) return;
    shown = next;
    for (const listener of listeners) listener();
  }

  /** Puts the next seconds on the audio clock. */
  function plan(now: ServerAt): void {
    const exact = sprite?.exact;
    if (!exact || !schedule || testing) return;
    if (exact.ctx.state !== 'running' || !wanted()) {
      // While it stands still, what lies on the audio clock would come late, all at once.
      schedule.clear();
      readings = [];
      moved = { currentMs: -1, deviceMs: 0 };
      options.planned?.([]);
      return;
    }
    const deviceMs = performance.now();
    const reading = read(exact.ctx, deviceMs);
    readings = withReading(readings, reading);
    if (reading.currentMs !== moved.currentMs) {
      moved = reading;
      if (problem === 'noOutput') problem = null;
    } else if (deviceMs - moved.deviceMs > STUCK_MS) problem = 'noOutput';
    const ahead = aheadMs(readings) ?? 0;
    const toAudioMs = (signal: Signal) => deviceMs + (signal.at - now) / rate() + ahead - settings.correctionMs;
    // With a slow output a sound must start before its instant comes.
    const coming = upcoming(player, after(now, -LATE_MS), after(now, HORIZON_MS * rate()), how());
    schedule.update(signals() ? coming : [], toAudioMs);
    options.planned?.(coming.map((signal) => ({ fromMs: toAudioMs(signal), toMs: toAudioMs(signal) + (sprite?.map[signal.kind][1] ?? 0) })));
  }

  function tick(): void {
    const now = serverNow();
    if (closed || now === null) return;
    player = follow(player, said.session, said.seq, how(), now);
    plan(now);
    const step = due(player, how(), now);
    player = step.player;
    for (const signal of step.signals) {
      options.given?.(signal);
      if (sprite && !sprite.exact && wanted() && signals()) sprite.howl.play(signal.kind);
      say(signal, now);
    }
    const caption = captionNow(player, now);
    show(caption?.caption ?? null, caption !== null && isDigit(caption.kind));
  }

  function say(signal: Signal, now: ServerAt): void {
    if (signal.kind === 'three' || signal.kind === 'paused') hush();
    if (!settings.voice || !player.session || state() !== 'on' || !signals()) return;
    const words = spoken(signal, movementName(player.session, view(player.session, now).movement, language()), language());
    if (words && maySpeak(upcoming(player, after(now, 1), after(now, speakMs(words)), how()))) speak(words, settings, gainOf(settings.volume), language());
  }

  async function test(one?: SignalKind): Promise<void> {
    const exact = sprite?.exact;
    if (!sprite || !exact || testing || exact.ctx.state !== 'running') return;
    schedule?.clear();
    for (const kind of one === undefined ? [...signalKinds].reverse() : [one]) {
      // A room that was stopped meanwhile stays silent.
      if (closed || !signals()) break;
      testing = kind;
      show(shown.caption, shown.counts);
      const fromMs = exact.ctx.currentTime * 1_000;
      const lengthMs = sprite.map[kind][1];
      options.planned?.([{ fromMs, toMs: fromMs + lengthMs }]);
      startOn(sprite, kind, fromMs);
      await new Promise((resolve) => setTimeout(resolve, lengthMs + TEST_GAP_MS));
    }
    testing = null;
    show(shown.caption, shown.counts);
  }

  function load(): void {
    if (loading || !wanted()) return;
    loading = true;
    loadSprite(pattern).then((loaded) => {
      if (closed) return;
      sprite = loaded;
      const { exact } = loaded;
      Howler.volume(gainOf(settings.volume));
      if (exact) {
        schedule = new Schedule({ start: (kind, atAudioMs) => startOn(loaded, kind, atAudioMs), nowMs: () => exact.ctx.currentTime * 1_000 });
        exact.ctx.onstatechange = look;
      }
      look();
    }, (error: unknown) => {
      // The room is told what to do; whoever looks after the server finds the reason here.
      console.error(error);
      problem = 'notLoaded';
      show(null);
    });
  }

  function look(): void {
    load();
    tick();
    show(shown.caption, shown.counts);
  }

  const timer = setInterval(tick, TICK_MS);
  load();

  return {
    follow(session, seq) {
      said = { session, seq };
      tick();
    },
    async unlock() {
      await sprite?.exact?.ctx.resume();
      look();
    },
    test,
    at(kind, deviceMs) {
      const ahead = aheadMs(readings);
      if (!sprite || ahead === null || state() !== 'on') return () => undefined;
      return startOn(sprite, kind, deviceMs + ahead - settings.correctionMs);
    },
    change(part) {
      settings = { ...settings, ...part };
      saveSettings(settings);
      Howler.volume(gainOf(settings.volume));
      if (settings.volume === 'silent' || !settings.voice) hush();
      look();
    },
    look,
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
