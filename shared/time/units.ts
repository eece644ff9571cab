/**
 * Owns the two kinds of time and nothing else. Server time and device time are
 * branded apart, so that subtracting one from the other does not compile.
 */

/** A point on the server's clock, whole milliseconds since 1970 (UTC). */
export type ServerAt = number & { readonly clock: 'server' };
/** A point on a device's monotonic clock, milliseconds, fractions allowed. */
export type DeviceAt = number & { readonly clock: 'device' };

export const serverAt = (ms: number): ServerAt => ms as ServerAt;
export const deviceAt = (ms: number): DeviceAt => ms as DeviceAt;

/** A later (or, with a negative length, earlier) point on the same clock. */
export const after = <T extends ServerAt | DeviceAt>(at: T, ms: number): T => ((at as number) + ms) as T;

/** Milliseconds from one point to a later one on the same clock. */
export const between = <T extends ServerAt | DeviceAt>(from: T, to: T): number => (to as number) - (from as number);

/** The later of two points on the same clock. */
export const later = <T extends ServerAt | DeviceAt>(a: T, b: T): T => (a > b ? a : b);
