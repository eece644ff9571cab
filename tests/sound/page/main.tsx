/**
 * Owns the page of the sound check: the real hook, a class held by hand in the
 * page, and a tap on what goes out. Leaves alone judging it (record.ts).
 */
import { Howler } from 'howler';
import { useState } from 'react';
import { createRoot } from 'react-dom/client';
import { useSound } from '../../../shared/sound/use-sound.ts';
import type { Room } from '../../../shared/link/types.ts';
import type { Event, RunningCommand } from '../../../shared/session/command.ts';
import { type ServerAt, serverAt } from '../../../shared/time/units.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { hold, START } from '../../random/class.ts';

const tapSource = `registerProcessor('tap', class extends AudioWorkletProcessor {
  process([input]) { if (input[0]) this.port.postMessage({ frame: currentFrame, samples: input[0].slice() }); return true; }
});`;

export interface Check {
  state: () => string;
  caption: () => string | null;
  begin: (plan: Plan) => void;
  say: (command: RunningCommand['type'], byMs?: number) => boolean;
  /** Turns the page's idea of the server's clock by some milliseconds, as a better estimate would. */
  shift: (ms: number) => void;
  tap: () => Promise<void>;
  /** What was recorded, and how the clocks stood to each other. */
  taken: () => { events: readonly Event[]; captions: { at: number; text: string }[]; rate: number; first: number; pairs: [number, number, number][]; zero: number; samples: string };
}
declare global { interface Window { check: Check } }

const zero = performance.now();
let shiftMs = 0;
const now = (): ServerAt => serverAt(START + Math.round((performance.now() - zero + shiftMs) * 1_000) / 1_000);
let hands: ReturnType<typeof hold> | null = null;
const hears = new Set<Parameters<Room['onSession']>[0]>();
const onSession: Room['onSession'] = (listener) => {
  hears.add(listener);
  listener(hands?.session ?? null, hands?.events.length ?? 0);
  return () => { hears.delete(listener); };
};
let redraw: (n: number) => void = () => undefined;
let classAtMs = 0;
const blocks: { frame: number; samples: Float32Array }[] = [];
const pairs: [number, number, number][] = [];
const captions: { at: number; text: string }[] = [];
let seen = { state: 'off', caption: null as string | null };

/** A held class counts from START; the room's clock does too, from when the class began. */
const classNow = (): ServerAt => serverAt(now() - classAtMs);

function Page() {
  const [seq, set] = useState(0);
  redraw = set;
  const room: Room = {
    link: { state: 'live', since: 0 }, about: null, session: hands?.session ?? null, seq, now: classNow, errorMs: () => 1, choose: () => undefined, tell: async () => ({ done: true }), sound: async () => ({ screens: 0 }), onPlay: () => () => undefined, onSession,
    send: async () => ({ done: true }),
  };
  const sound = useSound(room, 0);
  if (sound.caption !== seen.caption && sound.caption) captions.push({ at: classNow(), text: sound.caption });
  seen = { state: sound.state, caption: sound.caption };
  if (sound.problem) document.title = sound.problem;
  return <button type="button" onClick={() => { sound.change({ halfway: true, volume: 'full' }); void sound.unlock(); }}>Sound</button>;
}
createRoot(document.getElementById('root') as HTMLElement).render(<Page />);

window.check = {
  state: () => seen.state,
  caption: () => seen.caption,
  begin(plan) {
    classAtMs = Math.round(now() - START);
    hands = hold(plan);
    for (const hear of hears) hear(hands.session, 1);
    redraw(1);
  },
  say(type, byMs) {
    if (!hands) return false;
    hands.wait(Math.round(classNow() - hands.at));
    const taken = type === 'carry-on' ? hands.press({ ticks: 0, kind: type, n: 1, stale: false })
      : hands.press({ ticks: 0, kind: type as 'go', n: Math.round((byMs ?? 1_000) / 1_000), stale: false });
    for (const hear of hears) hear(hands.session, hands.events.length);
    redraw(hands.events.length);
    return taken;
  },
  shift(ms) { shiftMs += ms; },
  async tap() {
    const { ctx } = Howler;
    await ctx.audioWorklet.addModule(URL.createObjectURL(new Blob([tapSource], { type: 'text/javascript' })));
    const node = new AudioWorkletNode(ctx, 'tap', { channelCount: 1, channelCountMode: 'explicit' });
    node.port.onmessage = ({ data }) => { blocks.push(data); };
    Howler.masterGain.connect(node);
    node.connect(ctx.destination);
    setInterval(() => { pairs.push([performance.now(), ctx.currentTime * 1_000, (ctx.baseLatency + ctx.outputLatency) * 1_000]); }, 11);
  },
  taken() {
    const first = blocks[0]?.frame ?? 0;
    const last = blocks.at(-1)?.frame ?? 0;
    const all = new Int16Array(last - first + 128);
    for (const b of blocks) b.samples.forEach((x, i) => { all[b.frame - first + i] = Math.round(Math.max(-1, Math.min(1, x)) * 32_767); });
    const bytes = new Uint8Array(all.buffer);
    let samples = '';
    for (let i = 0; i < bytes.length; i += 8_192) samples += String.fromCharCode(...bytes.subarray(i, i + 8_192));
    return {
      events: hands?.events ?? [], captions, rate: Howler.ctx.sampleRate, first, pairs, zero: zero - shiftMs + classAtMs, samples: btoa(samples),
    };
  },
};
