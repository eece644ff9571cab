/** Owns the numbers and lengths of time that instructors write. */
const wordNumbers: Readonly<Record<string, number>> = {
  one: 1, two: 2, three: 3, four: 4, five: 5, six: 6, seven: 7, eight: 8, nine: 9, ten: 10, twelve: 12, fifteen: 15, twenty: 20, thirty: 30, forty: 40, sixty: 60,
};
/** As the source of a regular expression, without groups of its own. */
export const NUMBER = `(?:\\d{1,7}(?:\\.\\d{1,4})?|${Object.keys(wordNumbers).join('|')})`;
const MINUTES = '(?:minutes?|mins?|m|\')';
const SECONDS = '(?:seconds?|secs?|s|")';
/** A length with its unit: "30 s", "1 min", "1:30", "1 min 30 s". */
export const LENGTH = `(?:\\d{1,3}:[0-5]\\d|${NUMBER} ?${MINUTES}(?: ?${NUMBER} ?${SECONDS})?|${NUMBER} ?${SECONDS})`;

export const numberOf = (text: string): number => wordNumbers[text.toLowerCase()] ?? Number(text);

/** Seconds of a length, or of a bare number. */
export function secondsOf(text: string): number {
  const clock = /^(\d+):(\d\d)$/.exec(text.trim());
  if (clock) return Number(clock[1]) * 60 + Number(clock[2]);
  const parts = [...text.matchAll(new RegExp(`(${NUMBER}) ?(${MINUTES}|${SECONDS})?`, 'gi'))];
  const sum = parts.reduce((all, [, n, unit]) => all + numberOf(n ?? '0') * (unit && /^(m|')/i.test(unit) ? 60 : 1), 0);
  return Math.round(sum * 1_000) / 1_000;
}

/** "90 s", "5 min": as it is printed and read back. */
export const lengthWords = (s: number): string => (s >= 120 && s % 60 === 0 ? `${s / 60} min` : `${s} s`);
