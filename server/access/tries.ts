/**
 * Owns how often a secret may be guessed: some tries are free, then each costs a wait that
 * doubles, for the address that guesses and, beyond more of them, for everybody (NIST SP
 * 800-63B section 5.2.2 asks for rising waits). Time is handed in.
 */
import { PAIRING_CODE_MS, PAIRING_FREE_TRIES, PAIRING_FREE_TRIES_IN_ALL, PAIRING_WAIT_MOST_MS } from '../../shared/limits.ts';
import { between, type ServerAt } from '../../shared/time/units.ts';

interface Tried { readonly count: number; readonly at: ServerAt }

/** After this long without a wrong one an address starts afresh. */
const FORGIVEN_MS = PAIRING_CODE_MS;

/** 1 s after the first try too many, then twice as long each time. */
const waitAfter = ({ count }: Tried, free: number): number =>
  count < free ? 0 : Math.min(PAIRING_WAIT_MOST_MS, 1_000 * 2 ** (count - free));

const fresh = (t: Tried | null | undefined, now: ServerAt): Tried | null => (t && between(t.at, now) < FORGIVEN_MS ? t : null);
const leftMs = (t: Tried | null, free: number, now: ServerAt): number => (t ? waitAfter(t, free) - between(t.at, now) : 0);

export function openTries() {
  const tries = new Map<string, Tried>();
  let all: Tried | null = null;
  return {
    /** How long this address has to wait before its next try is looked at; 0 or less: not at all. */
    waitMs: (address: string, now: ServerAt): number => {
      all = fresh(all, now);
      return Math.max(leftMs(fresh(tries.get(address), now), PAIRING_FREE_TRIES, now), leftMs(all, PAIRING_FREE_TRIES_IN_ALL, now));
    },
    right: (address: string): void => { tries.delete(address); },
    /** A try that was counted as wrong before it was looked at, and was right. */
    forgive: (address: string): void => {
      tries.delete(address);
      if (all) all = { ...all, count: Math.max(0, all.count - 1) };
    },
    /** @returns whether there have been so many that what is guessed should change */
    wrong: (address: string, now: ServerAt): boolean => {
      const mine = fresh(tries.get(address), now);
      for (const [known, t] of tries) if (!fresh(t, now)) tries.delete(known);
      tries.set(address, { count: (mine?.count ?? 0) + 1, at: now });
      all = { count: (fresh(all, now)?.count ?? 0) + 1, at: now };
      return all.count % PAIRING_FREE_TRIES_IN_ALL === 0;
    },
  };
}
