/**
 * Owns recording what a screen really puts out, and when: a tap behind the product's own
 * master gain, and by other means than the product's the relation of the audio clock to the
 * wall clock, which all processes of one machine share. Leaves alone judging it.
 */
import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { fromWav } from '../../media/sounds/wav.ts';
import type { SignalKind } from '../../shared/view/signal-kinds.ts';
import { onsets, resample, type Template } from './onsets.ts';

const worklet = `registerProcessor('tap', class extends AudioWorkletProcessor {
  process([input]) { if (input[0]) this.port.postMessage({ frame: currentFrame, samples: input[0].slice() }); return true; }
});`;

/** In a page before its own scripts: who goes straight to the loudspeaker. Howler does with the signals, and the music beside it. */
export const outs = `window.outs = []; { const connect = AudioNode.prototype.connect; AudioNode.prototype.connect = function (to, ...rest) { if (to instanceof AudioDestinationNode) window.outs.push(this); return connect.call(this, to, ...rest); }; }`;

/** Runs in the page. Howler puts itself on the window; captions are read from the corner as the room would. */
const inPage = (sources: string) => `(async () => {
  const { ctx, masterGain } = window.Howler;
  const tap = window.tap = { blocks: [], pairs: [], captions: [] };
  await ctx.audioWorklet.addModule(URL.createObjectURL(new Blob([${JSON.stringify(worklet)}], { type: 'text/javascript' })));
  const node = new AudioWorkletNode(ctx, 'tap', { channelCount: 1, channelCountMode: 'explicit' });
  node.port.onmessage = ({ data }) => { tap.blocks.push(data); };
  for (const source of ${sources}) source.connect(node);
  node.connect(ctx.destination);
  setInterval(() => { tap.pairs.push([performance.timeOrigin + performance.now(), ctx.currentTime * 1000, (ctx.baseLatency + ctx.outputLatency) * 1000]); }, 11);
  let last = '';
  const look = () => {
    const text = document.querySelector('.corner')?.textContent ?? '';
    if (text !== last) tap.captions.push([performance.timeOrigin + performance.now(), text]);
    last = text;
    requestAnimationFrame(look);
  };
  look();
})()`;

const fetched = `(() => {
  const { blocks, pairs, captions } = window.tap;
  const first = blocks[0]?.frame ?? 0;
  const all = new Int16Array((blocks.at(-1)?.frame ?? 0) - first + 128);
  for (const b of blocks) b.samples.forEach((x, i) => { all[b.frame - first + i] = Math.round(Math.max(-1, Math.min(1, x)) * 32767); });
  const bytes = new Uint8Array(all.buffer);
  let samples = '';
  for (let i = 0; i < bytes.length; i += 8192) samples += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return { rate: window.Howler.ctx.sampleRate, first, pairs, captions, samples: btoa(samples) };
})()`;

export interface Taken {
  readonly rate: number;
  readonly first: number;
  /** Wall clock, audio clock, and what the browser says of its latency, all in milliseconds. */
  readonly pairs: readonly (readonly [wallMs: number, audioMs: number, latencyMs: number])[];
  readonly captions: readonly (readonly [wallMs: number, text: string])[];
  readonly samples: string;
}

/** Begins to record; the page's own security policy must be off in the test, for the worklet comes from a blob. */
export const tap = (page: Page): Promise<unknown> => page.evaluate(inPage('[masterGain]'));
/** The same of the music, on a page that had `outs`. */
export const tapMusic = (page: Page): Promise<unknown> => page.evaluate(inPage('window.outs.filter((out) => out !== masterGain && out.context === ctx && !(out instanceof AudioWorkletNode))'));
/** The samples of what was taken, 1 at full scale. */
export function samplesOf(t: Taken): Float64Array {
  const pcm = Buffer.from(t.samples, 'base64');
  return Float64Array.from({ length: pcm.length / 2 }, (_, i) => pcm.readInt16LE(i * 2) / 32_767);
}
export const taken = (page: Page): Promise<Taken> => page.evaluate(fetched) as Promise<Taken>;

export const quantile = (values: readonly number[], q: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * q))] ?? Number.NaN;

const root = new URL('../../', import.meta.url).pathname;

/** The room's own sounds, to recognise them by. @param rate samples a second of the recording */
export function templates(room: number, rate: number): readonly Template[] {
  const sprite = JSON.parse(readFileSync(`${root}media/sounds/sprite.json`, 'utf8')) as { signals: Record<SignalKind, [number, number]> };
  const wav = fromWav(readFileSync(`${root}media/sounds/room-${room}.wav`));
  return Object.entries(sprite.signals).map(([kind, [at, ms]]) => ({
    kind: kind as SignalKind,
    samples: resample(wav.samples.slice((at * wav.rate) / 1_000, ((at + ms) * wav.rate) / 1_000), wav.rate, rate),
  }));
}

/** An audio device may slip, so the clocks are set against each other near each sound: the furthest that audio was ahead, less the latency stated there. */
const NEAR_MS = 700;

export interface Heard { readonly kind: SignalKind; readonly wallMs: number; readonly likeness: number; readonly latencyMs: number }

/** What sounded and when it left the loudspeaker, on the wall clock. */
export function heard(t: Taken, room = 0): readonly Heard[] {
  return onsets(samplesOf(t), t.rate, templates(room, t.rate)).map(({ kind, atMs, likeness }) => {
    const audioMs = atMs + (t.first * 1_000) / t.rate;
    const near = t.pairs.filter(([, audio]) => Math.abs(audio - audioMs) < NEAR_MS);
    const latencyMs = quantile(near.map(([, , latency]) => latency), 0.5);
    return { kind, likeness, latencyMs, wallMs: audioMs - (Math.max(...near.map(([wall, audio]) => audio - wall)) - latencyMs) };
  });
}
