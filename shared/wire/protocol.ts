/**
 * Owns the protocol's version and its history. A device of another version is
 * told to reload instead of guessing.
 *
 * 1  join, sample, command, choose; snapshot, news, presence
 * 2  the answers to join and sample name the server's clock
 * 3  stop, keep moving; tell; snapshot and presence say who is here; sound, play; whether a screen is heard, where the signals come from
 */
export const PROTOCOL = 3;
