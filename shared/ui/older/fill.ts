/**
 * Owns what pages ask of a browser that those of about 2019 do not have (targets.ts): filled in
 * where it is missing, and nowhere else. Imported first, before whatever asks for it. What is
 * filled in is what the specification says for what we use; fill.test.ts holds it to the real one.
 */
import { NO_DIALOG, NO_GAP } from './marks.ts';

type Any = readonly unknown[] & { readonly length: number };
type Test = (value: unknown, index: number, list: unknown) => unknown;

const whole = (n: unknown): number => Math.trunc(Number(n)) || 0;

/** ES2022 and ES2023, as methods of the list they are called on. */
export const fills = {
  at(this: Any | string, index?: number): unknown {
    const k = whole(index);
    return this[k < 0 ? this.length + k : k];
  },
  findLast(this: Any, test: Test, self?: unknown): unknown {
    for (let k = this.length - 1; k >= 0; k -= 1) if (test.call(self, this[k], k, this)) return this[k];
    return undefined;
  },
  findLastIndex(this: Any, test: Test, self?: unknown): number {
    for (let k = this.length - 1; k >= 0; k -= 1) if (test.call(self, this[k], k, this)) return k;
    return -1;
  },
  toSorted(this: Any, by?: (a: unknown, b: unknown) => number): unknown[] {
    return Array.from(this).sort(by);
  },
  toReversed(this: Any): unknown[] {
    return Array.from(this).reverse();
  },
  /** For text; a pattern has to be global, and is then what replace does. */
  replaceAll(this: string, what: string | RegExp, by: string | ((...found: string[]) => string)): string {
    if (typeof what !== 'string') return this.replace(what, by as string);
    const escaped = what.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    return this.replace(new RegExp(escaped, 'g'), by as string);
  },
  hasOwn(of: object, key: PropertyKey): boolean {
    // biome-ignore lint/suspicious/noPrototypeBuiltins: this is what the newer name is made of
    return Object.prototype.hasOwnProperty.call(of, key);
  },
};

function give(to: object, name: keyof typeof fills): void {
  if (name in to) return;
  Object.defineProperty(to, name, { value: fills[name], configurable: true, writable: true });
}

/** Safari had only the older form of this (until 14). */
function listenToMedia(): void {
  if (typeof MediaQueryList === 'undefined' || 'addEventListener' in MediaQueryList.prototype) return;
  Object.assign(MediaQueryList.prototype, {
    addEventListener(this: MediaQueryList, _type: string, listener: () => void) { this.addListener(listener); },
    removeEventListener(this: MediaQueryList, _type: string, listener: () => void) { this.removeListener(listener); },
  });
}

/** A request that gives up by itself (Chromium 103, Safari 16). */
function timeLimits(): void {
  if (typeof AbortSignal === 'undefined' || 'timeout' in AbortSignal) return;
  Object.assign(AbortSignal, {
    timeout: (ms: number): AbortSignal => {
      const limit = new AbortController();
      setTimeout(() => limit.abort(), ms);
      return limit.signal;
    },
  });
}

/** Safari had none until 14; the schemas name its bounds when they are loaded, and nothing here counts in it. */
function largeNumbers(): void {
  if (typeof BigInt === 'undefined') Object.assign(globalThis, { BigInt: Number });
}

/** Sheets over a page (Safari 15.4): shown over it all the same, without the browser keeping the page under it still. */
function sheets(): void {
  if (typeof HTMLUnknownElement === 'undefined' || typeof HTMLDialogElement !== 'undefined') return;
  document.documentElement.setAttribute(NO_DIALOG, '');
  Object.assign(HTMLUnknownElement.prototype, {
    showModal(this: HTMLElement) { this.setAttribute('open', ''); },
    close(this: HTMLElement) {
      this.removeAttribute('open');
      this.dispatchEvent(new Event('close'));
    },
  });
}

/** An older browser keeps no gap in a flex box, and says nothing of it: it has to be tried. */
function tryGap(): void {
  if (typeof document === 'undefined') return;
  const box = document.createElement('div');
  box.style.cssText = 'display:flex;flex-direction:column;row-gap:1px;position:absolute;visibility:hidden';
  box.append(document.createElement('div'), document.createElement('div'));
  document.documentElement.append(box);
  if (box.scrollHeight !== 1) document.documentElement.setAttribute(NO_GAP, '');
  box.remove();
}

for (const name of ['at', 'findLast', 'findLastIndex', 'toSorted', 'toReversed'] as const) give(Array.prototype, name);
for (const name of ['at', 'replaceAll'] as const) give(String.prototype, name);
give(Object, 'hasOwn');
listenToMedia();
timeLimits();
largeNumbers();
sheets();
tryGap();
