/**
 * Owns what each signal sounds like: notes in time. Signals are told apart by
 * rhythm and contour, so that they are known at any pitch and through any
 * loudspeaker. Leaves alone timbre (timbre.ts) and loudness.
 */

export interface Note {
  readonly atMs: number;
  readonly forMs: number;
  /** Semitones above the room's lowest note. */
  readonly pitch: number;
  /** Where it glides to. */
  readonly to?: number;
}

const note = (atMs: number, forMs: number, pitch: number, to?: number): Note =>
  to === undefined ? { atMs, forMs, pitch } : { atMs, forMs, pitch, to };
const even = (stepMs: number, forMs: number, pitches: readonly number[]): Note[] =>
  pitches.map((pitch, i) => note(i * stepMs, forMs, pitch));
/** A double knock; a count-in is a single tone. */
const knock = (pitch: number): Note[] => even(130, 80, [pitch, pitch]);

/**
 * Rhythms and contours are our own. Three rising tones before a long one, and
 * falling for an end, are common practice, no source. All but the last sound are
 * over within a second, so that the next beat finds silence.
 */
export const score = {
  three: [note(0, 180, 0)],
  two: [note(0, 180, 2)],
  one: [note(0, 180, 4)],
  go: [note(0, 460, 10)],
  'last-three': knock(7),
  'last-two': knock(5),
  'last-one': knock(3),
  'ten-left': [note(0, 110, 5), note(150, 110, 5), note(300, 360, 5)],
  halfway: even(200, 180, [2, 9, 2]),
  'side-change': even(190, 170, [1, 9, 1, 9]),
  end: [note(0, 260, 10), note(280, 420, 2)],
  'section-end': [...even(170, 150, [10, 7, 4]), note(510, 430, 0)],
  'class-end': [...even(220, 200, [0, 4, 7, 4, 7]), note(1_100, 800, 10)],
  paused: [note(0, 620, 10, 0)],
  resumed: [note(0, 150, 2), note(180, 420, 9)],
} as const satisfies Record<string, readonly Note[]>;
export type Sound = keyof typeof score;
export const sounds = Object.keys(score) as Sound[];

/** From this length on a note is long. */
const LONG_MS = 220;

/** The rhythm as short (.) and long (-) notes. */
export const rhythmOf = (notes: readonly Note[]): string => notes.map((n) => (n.forMs >= LONG_MS ? '-' : '.')).join('');

/** The melody as up, down and level steps; a glide is a step within its note. */
export function contourOf(notes: readonly Note[]): string {
  const pitches = notes.flatMap((n) => (n.to === undefined ? [n.pitch] : [n.pitch, n.to]));
  return pitches.slice(1).map((p, i) => (p > (pitches[i] ?? 0) ? 'u' : p < (pitches[i] ?? 0) ? 'd' : '=')).join('');
}
