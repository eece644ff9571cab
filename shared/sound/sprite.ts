/**
 * Owns getting a room's sounds into the browser: Howler loads the sprite, makes
 * the audio context and unlocks it at the first touch; the samples are read a
 * second time for exact starts, which Howler has no call for.
 */
import { Howl, Howler } from 'howler';
import type { SignalKind } from '../view/signal-kinds.ts';

let addressOf = (name: string): string => `/media/sounds/${name}`;
/** A page without a server has its sounds in itself. */
export const soundsFrom = (address: (name: string) => string): void => { addressOf = address; };

export type SpriteMap = Readonly<Record<SignalKind, readonly [atMs: number, lengthMs: number]>>;
interface SpriteFile { readonly files: readonly string[]; readonly signals: SpriteMap }

export interface Sprite {
  readonly howl: Howl;
  readonly map: SpriteMap;
  /** Null where the browser has no Web Audio; then Howler plays at once or not at all. */
  readonly exact: { readonly ctx: AudioContext; readonly buffer: AudioBuffer; readonly out: AudioNode } | null;
}

async function fetched(name: string): Promise<Response> {
  const answer = await fetch(addressOf(name));
  if (!answer.ok) throw new Error(`The sounds are not there (${name}, ${answer.status}). Make them with: npx tsx media/sounds/main.ts`);
  return answer;
}

/** Puts one signal on the audio clock; a time that has passed means at once. Says how to take it off again. */
export function startOn({ exact, map }: Sprite, kind: SignalKind, atAudioMs: number): () => void {
  if (!exact) return () => undefined;
  const [offsetMs, lengthMs] = map[kind];
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

/** Older Safari knows only the form with callbacks. */
const decode = (ctx: AudioContext, bytes: ArrayBuffer): Promise<AudioBuffer> =>
  new Promise((resolve, reject) => { ctx.decodeAudioData(bytes, resolve, reject)?.catch(reject); });

/** @param pattern the room's own, 0 to 7; rooms side by side have different voices */
export async function loadSprite(pattern: number): Promise<Sprite> {
  const { files, signals } = (await (await fetched('sprite.json')).json()) as SpriteFile;
  const name = files[pattern % files.length] ?? 'room-0.wav';
  // Thirty quiet seconds are nothing in a class: the context must not go to sleep in them.
  Howler.autoSuspend = false;
  const howl = new Howl({ src: [addressOf(name)], sprite: Object.fromEntries(Object.entries(signals).map(([k, [at, ms]]) => [k, [at, ms]])) });
  if (!Howler.usingWebAudio) return { howl, map: signals, exact: null };
  const { ctx } = Howler;
  const buffer = await decode(ctx, await (await fetched(name)).arrayBuffer());
  return { howl, map: signals, exact: { ctx, buffer, out: Howler.masterGain } };
}
