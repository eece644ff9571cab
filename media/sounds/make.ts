/**
 * Owns making the sprite of each room: all signals at one loudness, silence
 * between them, and the map that says where each begins. Leaves alone writing files.
 */
import { loudest, truePeak } from './loudness.ts';
import { score, type Sound, sounds } from './score.ts';
import { play, RATE, type Timbre, timbres } from './timbre.ts';

/** Loud beside music, and what the shortest sound can reach without its peak going over. */
const TARGET_LUFS = -15.5;
const PEAK_MOST_DB = -1;
const GAP_MS = 150;

const lengthMs = (sound: Sound): number => Math.max(...score[sound].map((n) => n.atMs + n.forMs));

/** Milliseconds from the start of the file, and length, as sprites are written. */
function layout(): Record<Sound, [number, number]> {
  let at = GAP_MS;
  const places = sounds.map((sound) => {
    const place: [number, number] = [at, lengthMs(sound)];
    at += place[1] + GAP_MS;
    return [sound, place] as const;
  });
  return Object.fromEntries(places) as Record<Sound, [number, number]>;
}

function levelled(sound: Sound, timbre: Timbre): Float64Array {
  const raw = play(score[sound], timbre);
  const gain = 10 ** ((TARGET_LUFS - loudest(raw, RATE)) / 20);
  const samples = raw.map((x) => x * gain);
  const peak = truePeak(samples);
  if (peak > PEAK_MOST_DB) throw new Error(`${timbre.name}, ${sound}: peak ${peak.toFixed(1)} dBTP; lower TARGET_LUFS or lengthen the sound`);
  return samples;
}

/** The samples of each room at RATE, and where in them each signal lies. */
export function makeSprites(): { readonly rooms: readonly Float64Array[]; readonly map: Record<Sound, [number, number]> } {
  const map = layout();
  const endMs = Math.max(...Object.values(map).map(([at, length]) => at + length)) + GAP_MS;
  const rooms = timbres.map((timbre) => {
    const out = new Float64Array(Math.round((endMs * RATE) / 1_000));
    for (const sound of sounds) out.set(levelled(sound, timbre), Math.round((map[sound][0] * RATE) / 1_000));
    return out;
  });
  return { rooms, map };
}
