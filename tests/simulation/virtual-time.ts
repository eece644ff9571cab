/**
 * Owns time in a simulated world: what is to happen and in which order. Between two
 * happenings every promise that can go on has gone on, so that a run is the same
 * each time. No real timer is used.
 */

interface Item { readonly at: number; readonly order: number; run: (() => void) | null }

/** Node runs what waits for its next tick only once no promise can go on any more. */
export const settled = (): Promise<void> => new Promise((resolve) => { process.nextTick(resolve); });

export class VirtualTime {
  /** True milliseconds since the world began. */
  now = 0;
  happenings = 0;
  private readonly heap: Item[] = [];
  private orders = 0;

  /** Gives the way to call it off. */
  readonly at = (at: number, run: () => void): (() => void) => {
    const item: Item = { at: Math.max(at, this.now), order: this.orders++, run };
    this.push(item);
    return () => { item.run = null; };
  };
  readonly after = (ms: number, run: () => void): (() => void) => this.at(this.now + Math.max(0, ms), run);

  /** Lets everything happen up to an instant, or until somebody says stop. */
  async until(end: number, stop: () => boolean): Promise<void> {
    for (let next = this.heap[0]; next && next.at <= end; next = this.heap[0]) {
      this.pop();
      if (!next.run) continue;
      this.now = next.at;
      this.happenings += 1;
      next.run();
      await settled();
      if (stop()) return;
    }
    this.now = Math.max(this.now, end);
  }

  private before(a: Item, b: Item): boolean {
    return a.at < b.at || (a.at === b.at && a.order < b.order);
  }
  private push(item: Item): void {
    const { heap } = this;
    let i = heap.push(item) - 1;
    while (i > 0) {
      const up = (i - 1) >> 1;
      const parent = heap[up] as Item;
      if (!this.before(item, parent)) break;
      heap[i] = parent;
      i = up;
    }
    heap[i] = item;
  }
  private pop(): void {
    const { heap } = this;
    const last = heap.pop() as Item;
    if (heap.length === 0) return;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child >= heap.length) break;
      if (child + 1 < heap.length && this.before(heap[child + 1] as Item, heap[child] as Item)) child += 1;
      if (!this.before(heap[child] as Item, last)) break;
      heap[i] = heap[child] as Item;
      i = child;
    }
    heap[i] = last;
  }
}
