/**
 * Owns the protocol's version and its history. A device of another version is
 * told to reload instead of guessing.
 *
 * 1  join, sample, command, choose; snapshot, news, presence
 */
export const PROTOCOL = 1;
