/**
 * Owns the voices of the rooms and turns notes into samples. Each room has its
 * own, so that nobody stops on the neighbour's bell. The lowest notes lie above
 * 500 Hz and little above 2,000 Hz: older ears lose the high frequencies first
 * (ISO 7029), and danger signals are put there too (ISO 7731, 500 to 2,500 Hz).
 */
import type { Note } from './score.ts';

export const RATE = 24_000;

export interface Timbre {
  readonly name: string;
  /** Hertz of pitch 0. */
  readonly baseHz: number;
  /** Frequency and strength of each partial, beside the fundamental. */
  readonly partials: readonly (readonly [ratio: number, strength: number])[];
  /** Milliseconds in which a note falls to 37 %. */
  readonly decayMs: number;
  readonly attackMs: number;
  /** A beating loudness: how often a second, and how much of it. */
  readonly tremolo: { readonly hz: number; readonly depth: number };
}

const still = { hz: 0, depth: 0 };
export const timbres: readonly Timbre[] = [
  { name: 'wood', baseHz: 560, partials: [[1, 1], [2, 0.3]], decayMs: 260, attackMs: 6, tremolo: still },
  { name: 'reed', baseHz: 594, partials: [[1, 1], [2, 0.6], [3, 0.35]], decayMs: 4_000, attackMs: 10, tremolo: still },
  { name: 'flutter', baseHz: 527, partials: [[1, 1], [2, 0.08]], decayMs: 4_000, attackMs: 10, tremolo: { hz: 19, depth: 0.55 } },
  { name: 'pair', baseHz: 628, partials: [[1, 1], [1.016, 0.8], [1.5, 0.3]], decayMs: 900, attackMs: 8, tremolo: still },
  { name: 'pipe', baseHz: 543, partials: [[1, 1], [3, 0.5]], decayMs: 4_000, attackMs: 14, tremolo: still },
  { name: 'string', baseHz: 577, partials: [[1, 1], [2, 0.5], [3, 0.3]], decayMs: 150, attackMs: 5, tremolo: still },
  { name: 'pulse', baseHz: 611, partials: [[1, 1], [2, 0.25]], decayMs: 4_000, attackMs: 8, tremolo: { hz: 11, depth: 0.7 } },
  { name: 'glass', baseHz: 518, partials: [[1, 1], [1.5, 0.5], [2.76, 0.35]], decayMs: 500, attackMs: 5, tremolo: still },
];

/** Above this a partial is held back. */
const HIGH_HZ = 1_900;
const HIGH_SHARE = 0.2;
const RELEASE_MS = 25;

const half = (x: number): number => 0.5 - 0.5 * Math.cos(Math.PI * Math.min(1, Math.max(0, x)));

function addNote(out: Float64Array, n: Note, timbre: Timbre): void {
  const from = Math.round((n.atMs * RATE) / 1_000);
  const count = Math.round((n.forMs * RATE) / 1_000);
  const phases = timbre.partials.map(() => 0);
  for (let i = 0; i < count; i += 1) {
    const ms = (i * 1_000) / RATE;
    const pitch = n.pitch + ((n.to ?? n.pitch) - n.pitch) * (i / count);
    const hz = timbre.baseHz * 2 ** (pitch / 12);
    const fades = half(ms / timbre.attackMs) * half((n.forMs - ms) / RELEASE_MS);
    const shake = 1 - timbre.tremolo.depth * (0.5 - 0.5 * Math.cos((2 * Math.PI * timbre.tremolo.hz * ms) / 1_000));
    const level = fades * shake * Math.exp(-ms / timbre.decayMs);
    timbre.partials.forEach(([ratio, strength], k) => {
      const high = hz * ratio > HIGH_HZ ? HIGH_SHARE : 1;
      phases[k] = (phases[k] ?? 0) + (2 * Math.PI * hz * ratio) / RATE;
      out[from + i] = (out[from + i] ?? 0) + level * high * strength * Math.sin(phases[k] ?? 0);
    });
  }
}

/** Samples at RATE, of no particular loudness. */
export function play(notes: readonly Note[], timbre: Timbre): Float64Array {
  const lengthMs = Math.max(...notes.map((n) => n.atMs + n.forMs));
  const out = new Float64Array(Math.round((lengthMs * RATE) / 1_000));
  for (const n of notes) addNote(out, n, timbre);
  return out;
}
