/**
 * Owns how often somebody may do a thing: so many at once, so many a second after that
 * (token bucket, e.g. RFC 2697 section 3 for one rate). Time is handed in, in milliseconds
 * of any clock that does not go back.
 */
export interface Rate { readonly perSecond: number; readonly burst: number }

export class Bucket {
  readonly #rate: Rate;
  #left: number;
  #at: number;

  constructor(rate: Rate, nowMs: number) {
    this.#rate = rate;
    this.#left = rate.burst;
    this.#at = nowMs;
  }

  /** Takes one; false where none is left, and nothing is taken. */
  take(nowMs: number): boolean {
    this.#fill(nowMs);
    if (this.#left < 1) return false;
    this.#left -= 1;
    return true;
  }

  /** Whether it is as if nobody had ever come. */
  full(nowMs: number): boolean {
    this.#fill(nowMs);
    return this.#left >= this.#rate.burst;
  }

  #fill(nowMs: number): void {
    this.#left = Math.min(this.#rate.burst, this.#left + (Math.max(0, nowMs - this.#at) * this.#rate.perSecond) / 1_000);
    this.#at = Math.max(this.#at, nowMs);
  }
}
