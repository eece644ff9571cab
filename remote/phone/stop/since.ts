/** Owns how long ago things were in the bad minute: minutes and seconds, read at a glance. */

/** "0:07", "3:41", "1:02:09"; what lies before 0 is 0. @param ms milliseconds */
export function sinceWords(ms: number): string {
  const s = Math.max(0, Math.floor(ms / 1_000));
  const two = (n: number) => String(n).padStart(2, '0');
  const [h, min] = [Math.floor(s / 3_600), Math.floor(s / 60) % 60];
  return h > 0 ? `${h}:${two(min)}:${two(s % 60)}` : `${min}:${two(s % 60)}`;
}
