/** Owns how the desk writes an instant: "Mon 4 May, 18:42", in a time zone. */
export const whenWords = (at: number, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', timeZone }).format(at);
