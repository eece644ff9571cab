/**
 * Owns how many connections there may be: over all, from one address at once, and how
 * often one address may come back. What is known of an address is forgotten when nobody
 * is there and it has been quiet. Time is handed in.
 */
import { Bucket, type Rate } from './bucket.ts';

export interface CrowdLimits {
  readonly inAll: number;
  readonly perAddress: number;
  readonly comes: Rate;
  /** Addresses without a limit of their own: this machine's, where the studio did not ask otherwise. */
  readonly free: (address: string) => boolean;
}

export type Entry = { readonly refused: string } | { readonly leave: () => void };

interface Guest { here: number; readonly comes: Bucket; outUntilMs: number }

/** Addresses that are remembered at most; an attacker has more than a table should hold. */
const REMEMBERED_MAX = 10_000;

export function openCrowd({ inAll, perAddress, comes, free }: CrowdLimits) {
  const guests = new Map<string, Guest>();
  let here = 0;

  const forget = (nowMs: number): void => {
    for (const [address, g] of guests) if (g.here === 0 && g.comes.full(nowMs) && g.outUntilMs <= nowMs) guests.delete(address);
  };

  return {
    /** Nobody of this address comes in for so long; who is in stays. */
    keepOut(address: string, nowMs: number, forMs: number): void {
      const guest = guests.get(address);
      if (guest) guest.outUntilMs = nowMs + forMs;
    },
    count: (): number => here,
    /** Comes in, or is told why not. `leave` is called once, when the connection has gone. */
    enter(address: string, nowMs: number): Entry {
      if (here >= inAll) return { refused: 'The studio has as many connections as it can hold. Close pages that nobody looks at.' };
      if (guests.size >= REMEMBERED_MAX) forget(nowMs);
      const guest = guests.get(address) ?? { here: 0, comes: new Bucket(comes, nowMs), outUntilMs: 0 };
      if (!free(address)) {
        if (guests.size >= REMEMBERED_MAX && !guests.has(address)) return { refused: 'The studio is besieged. Try again in a minute.' };
        guests.set(address, guest);
        if (nowMs < guest.outUntilMs) return { refused: 'This device sent far too much and was cut off. Wait ten seconds.' };
        if (guest.here >= perAddress) return { refused: `This device has ${perAddress} connections open. Close some pages.` };
        if (!guest.comes.take(nowMs)) return { refused: 'This device comes back too often. Wait some seconds.' };
      }
      guest.here += 1;
      here += 1;
      let gone = false;
      return {
        leave: () => {
          if (gone) return;
          gone = true;
          guest.here -= 1;
          here -= 1;
          if (guests.size >= REMEMBERED_MAX / 2) forget(nowMs);
        },
      };
    },
  };
}

const LOOPBACK = /^(::1|(::ffff:)?127\.\d+\.\d+\.\d+)$/;
export const isLoopback = (address: string): boolean => LOOPBACK.test(address);
