/**
 * Owns a second model of the class clock: it walks in ticks of 100 ms and
 * shares no code with the real one. Slow and plain on purpose.
 */
import type { Interval } from '../../shared/plan/interval.ts';
import type { Press } from '../random/plans.ts';
import { pressStop } from './stopping.ts';

const TICK = 100;
const LEAST = 3_000;

export type Slot = { -readonly [K in keyof Interval]: Interval[K] };

export class TickModel {
  slots: Slot[];
  cursor = 0;
  elapsed = 0;
  fill = 0;
  /** What the clock stands for, where it stands. */
  stands: 'paused' | 'keepMoving' | 'stopped' | null = null;
  back = 0;
  over = false;
  time = 0;
  lastPair: string | null = null;
  evened = new Set<string>();
  spent: Record<string, number> = {};
  sides: Record<string, { left: number; right: number }> = {};
  private readonly ready: (movement: string) => number;
  private readonly turn: (movement: string) => number;

  /** `ready`: milliseconds a movement's position needs from standing; `turn`: to its other side. */
  constructor(intervals: readonly Interval[], ready: (movement: string) => number, turn: (movement: string) => number) {
    this.slots = intervals.map((i) => ({ ...i }));
    this.ready = ready;
    this.turn = turn;
    this.fill = this.owed();
  }

  tick(): void {
    this.time += TICK;
    if (this.over) return;
    const slot = this.slots[this.cursor];
    if (!slot) return;
    const spend = (account: string) => {
      this.spent[account] = (this.spent[account] ?? 0) + TICK;
    };
    if (this.stands) {
      spend(this.stands);
      return;
    }
    if (this.fill > 0) {
      this.fill -= TICK;
      spend('countIn');
      return;
    }
    this.elapsed += TICK;
    spend(slot.kind === 'work' ? (slot.side ?? 'together') : slot.kind);
    if (slot.kind === 'work') {
      this.lastPair = slot.pair ?? null;
      if (slot.pair && slot.side && slot.ends === 'clock') {
        const sum = this.sides[slot.pair] ?? { left: 0, right: 0 };
        sum[slot.side] += TICK;
        this.sides[slot.pair] = sum;
      }
    }
    if (slot.ends === 'clock' && this.elapsed >= slot.lengthMs) this.step(this.cursor + 1);
  }

  press(press: Press): boolean {
    if (press.kind === 'note' || press.kind === 'head-count') return true;
    const slot = this.slots[this.cursor];
    if (this.over || !slot) return false;
    const stopping = pressStop(this, press.kind);
    if (stopping !== null) return stopping;
    const aboutInterval = !['pause', 'keep-moving', 'carry-on', 'even-up', 'end'].includes(press.kind);
    if (press.stale && (aboutInterval || press.kind === 'carry-on')) return false;
    const by = press.n * 1_000;
    switch (press.kind) {
      case 'pause': return this.stand('paused');
      case 'keep-moving': return this.stand('keepMoving');
      case 'carry-on':
        if (!this.stands) return false;
        this.stands = null;
        this.fill = this.owed();
        return true;
      case 'end':
        this.step(this.slots.length);
        return true;
      case 'go': return this.go(slot);
      case 'wait':
        if (slot.kind !== 'set-up' || slot.ends === 'go') return false;
        slot.lengthMs -= this.elapsed;
        slot.ends = 'go';
        this.elapsed = 0;
        this.fill = 0;
        return true;
      case 'again': {
        let to = this.cursor;
        if (this.elapsed < 3_000) {
          const starts = this.starts().filter((k) => k < this.cursor);
          to = starts.at(-1) ?? this.cursor;
        }
        this.back += 1;
        return this.jump(to);
      }
      case 'move-on': {
        let to = this.cursor + 1;
        if (slot.kind !== 'rest') while (this.together(to, this.cursor)) to += 1;
        if (!this.slots.slice(to).some((s) => s.kind !== 'rest')) return false;
        return this.jump(to);
      }
      case 'change-sides': {
        const turn = this.slots[this.cursor + 1];
        const other = this.slots[this.cursor + 2];
        if (slot.kind !== 'work' || !slot.pair || turn?.kind !== 'other-side' || other?.pair !== slot.pair) return false;
        if (this.elapsed < LEAST) return false;
        if (other.ends === 'clock') other.lengthMs = Math.min(other.lengthMs, this.elapsed);
        this.cursor += 1;
        this.elapsed = 0;
        this.fill = 0;
        return true;
      }
      case 'extend': {
        if (slot.ends === 'go') return false;
        const all = [slot, ...this.partner(slot)];
        if (all.some((s) => s.lengthMs + by > 3_600_000)) return false;
        for (const s of all) s.lengthMs += by;
        return true;
      }
      case 'shorten': {
        if (slot.ends === 'go') return false;
        const partner = this.partner(slot);
        const can = Math.min(by, slot.lengthMs - this.elapsed - LEAST, ...partner.map((s) => s.lengthMs - LEAST));
        if (can <= 0) return false;
        for (const s of [slot, ...partner]) s.lengthMs -= can;
        return true;
      }
      case 'even-up': return this.evenUp(slot);
      default: throw new Error(`a press that the model does not know: ${press.kind}`);
    }
  }

  stand(how: 'paused' | 'keepMoving' | 'stopped'): true {
    this.stands = how;
    this.fill = 0;
    return true;
  }

  private go(slot: Slot): boolean {
    if (this.stands) return false;
    if (slot.ends === 'go' && this.fill === 0) {
      const wasSetUp = slot.kind === 'set-up';
      this.step(this.cursor + 1);
      this.fill = wasSetUp ? Math.min(3_000, this.owed()) : this.owed();
      return true;
    }
    const inSetUp = slot.kind === 'set-up' && slot.ends === 'clock';
    if (!inSetUp && this.fill === 0) return false;
    const left = inSetUp ? slot.lengthMs - this.elapsed : 0;
    if (this.fill + left <= 3_000) return false;
    if (left > 3_000) slot.lengthMs = this.elapsed + 3_000;
    this.fill = Math.max(0, 3_000 - left);
    return true;
  }

  /** What is owed to one pair: positive, the left has had more. */
  owes(): { pair: string; by: number; working: boolean } | null {
    const slot = this.slots[this.cursor];
    if (this.over || !slot) return null;
    const working = slot.kind === 'work' && this.fill === 0 && (this.elapsed > 0 || !this.stands);
    const pair = working ? slot.pair : this.lastPair;
    if (!pair || this.evened.has(pair)) return null;
    const rest = this.slots.slice(this.cursor + (working ? 1 : 0));
    if (rest.some((s) => s.kind === 'work' && s.pair === pair)) return null;
    const sum = { left: 0, right: 0, ...this.sides[pair] };
    if (working && slot.side && slot.ends === 'clock') sum[slot.side] += slot.lengthMs - this.elapsed;
    const by = sum.left - sum.right;
    return Math.abs(by) < LEAST ? null : { pair, by, working };
  }

  private evenUp(_slot: Slot): boolean {
    const owed = this.owes();
    if (!owed) return false;
    const like = this.slots.findLast((s) => s.kind === 'work' && s.pair === owed.pair);
    if (!like) return false;
    const side = owed.by < 0 ? 'left' : 'right';
    const turn: Slot = { ...like, id: `${owed.pair}.even.o`, kind: 'other-side', ends: 'clock', side, lengthMs: this.turn(like.movement ?? '') };
    delete turn.pair;
    const work: Slot = { ...like, id: `${owed.pair}.even.w`, ends: 'clock', side, lengthMs: Math.abs(owed.by) };
    this.slots.splice(this.cursor + (owed.working ? 1 : 0), 0, turn, work);
    this.evened.add(owed.pair);
    if (!owed.working) {
      this.back += 1;
      this.jump(this.cursor);
    }
    return true;
  }

  private partner(slot: Slot): Slot[] {
    if (!slot.pair || !slot.side) return [];
    const found = this.slots.find((s, k) => k > this.cursor && s.kind === 'work' && s.ends === 'clock' && s.pair === slot.pair && s.side !== slot.side);
    return found ? [found] : [];
  }

  private together(a: number, b: number): boolean {
    const [x, y] = [this.slots[a], this.slots[b]];
    if (!x || !y || x.kind === 'rest' || x.kind === 'talk' || y.kind === 'talk') return false;
    return x.section === y.section && x.round === y.round && x.item === y.item;
  }

  /** Where Again may go: shows, and what follows the shows of each movement. */
  private starts(): number[] {
    const out: number[] = [];
    let begun = false;
    this.slots.forEach((s, k) => {
      if (!this.together(k, k - 1)) begun = false;
      if (s.kind === 'rest' || s.kind === 'talk') return;
      if (s.kind === 'show' || !begun) out.push(k);
      if (s.kind !== 'show') begun = true;
    });
    return out;
  }

  jump(to: number): boolean {
    this.step(to);
    this.fill = this.stands ? 0 : this.owed();
    return true;
  }

  private step(to: number): void {
    this.cursor = to;
    this.elapsed = 0;
    this.fill = 0;
    if (to >= this.slots.length) this.over = true;
  }

  private owed(): number {
    let given = 0;
    for (let k = this.cursor; k < this.slots.length; k += 1) {
      const s = this.slots[k] as Slot;
      if (s.kind === 'work') {
        const moves = s.stations?.movements ?? (s.movement ? [s.movement] : (s.prompts ?? []).slice(0, 1));
        return Math.max(0, Math.max(3_000, ...moves.map(this.ready)) - given);
      }
      if (s.ends === 'go') return 0;
      given += s.lengthMs - (k === this.cursor ? this.elapsed : 0);
    }
    return 0;
  }
}
