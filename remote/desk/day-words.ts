/** Owns how the desk writes a day: "Mon 4 May 2026", in the studio's own time zone. */
export const dayWords = (at: number, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric', timeZone }).format(at).replace(',', '');
