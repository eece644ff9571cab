/**
 * Owns being found by a short name in the studio's network: asks whether the name is free, then answers
 * "where is hallclock.local?" by multicast DNS (RFC 6762), and gives way where another device has it. Where
 * the network or another program does not let it, the server says so once and goes on: the address works all
 * the same. Leaves alone who shows the name.
 */
import { networkInterfaces } from 'node:os';
import makeMdns, { type MulticastDNS, type Options } from 'multicast-dns';
import { monotonicMs } from './real-clock.ts';

/** How long others may remember an answer (RFC 6762 section 10: 120 s for addresses of hosts). */
const KEEP_S = 120;
/** For those who ask as of any other name server (section 6.7). */
const KEEP_PLAIN_S = 10;
/** The name is asked for three times, so far apart, before it is taken (section 8.1). */
const PROBES = 3;
const PROBE_MS = 250;
/** Of two who ask at once the one with the lower addresses waits so long (section 8.2). */
const LOST_TIE_MS = 1_000;
/** A name that another has is asked for again so much later. */
const AGAIN_MS = 60_000;
/** Everybody hears an answer: one in this time is enough. */
const ANSWER_EVERY_MS = 250;

/** Whether an address to listen on is this computer's own. */
export const isLoopback = (host: string): boolean => host === 'localhost' || host === '::1' || host.startsWith('127.');

/** IPv4 addresses of this computer at which a server that listens on `host` is reached. */
export function reachedAt(host: string): string[] {
  const mine = Object.values(networkInterfaces()).flatMap((list) => list ?? []).filter((a) => a.family === 'IPv4' && !a.internal).map((a) => a.address);
  return host === '0.0.0.0' || host === '::' ? mine : mine.filter((address) => address === host);
}

const asNumber = (address: string): number => address.split('.').reduce((sum, part) => sum * 256 + Number(part), 0);

/** Above 0 where a has the better claim: the first address in which they differ is the higher one (section 8.2.1), or there are more. */
export function claim(a: readonly string[], b: readonly string[]): number {
  const [mine, theirs] = [a, b].map((list) => list.map(asNumber).sort((x, y) => x - y)) as [number[], number[]];
  for (const [index, one] of mine.entries()) {
    const other = theirs[index];
    if (other === undefined) return 1;
    if (one !== other) return one - other;
  }
  return mine.length - theirs.length;
}

export interface ShortName {
  /** Whether the name leads here now. */
  readonly ours: () => boolean;
  /** Tells everybody that the name no longer leads here. */
  readonly close: () => Promise<void>;
}

interface Surroundings {
  /** Looked up at each question: a computer's address changes. */
  readonly addresses: () => readonly string[];
  /** What the studio should know, in a sentence: the name cannot be used, or another device has it. */
  readonly warn: (sentence: string) => void;
  /** The name leads here from now on, or no longer. */
  readonly changed: () => void;
}

/**
 * @param name with ".local" at its end
 * @param options for tests: another port or interface
 */
export function answerTo(name: string, { addresses, warn, changed }: Surroundings, options: Options = {}): ShortName {
  const port = options.port ?? 5353;
  let mdns: MulticastDNS | null = null;
  let ours = false;
  let told = false;
  let wait: NodeJS.Timeout | undefined;
  let answeredMs = -Infinity;

  const is = (asked: string): boolean => asked.toLowerCase() === name;
  const among = (records: readonly { name: string; type: string; data?: unknown }[] = []): string[] => records.filter((r) => is(r.name) && r.type === 'A').map((r) => String(r.data));
  const records = (ttl: number, flush: boolean) => addresses().map((data) => ({ name, type: 'A' as const, ttl, flush, data }));
  /** "There is nothing else": else a phone waits for an address of the other kind (section 6.1). */
  const nothingElse = (ttl: number, flush: boolean) => ({ name, type: 'NSEC' as const, ttl, flush, data: { nextDomain: name, rrtypes: ['A'] } });
  const answer = (ttl = KEEP_S) => mdns?.respond({ answers: records(ttl, true), additionals: [nothingElse(ttl, true)] });
  const set = (next: boolean) => {
    if (ours === next) return;
    ours = next;
    changed();
  };
  const later = (ms: number, run: () => void) => {
    clearTimeout(wait);
    wait = setTimeout(run, ms);
    wait.unref();
  };
  const ask = (left = PROBES) => {
    if (addresses().length === 0) return;
    if (left === 0) {
      told = false;
      set(true);
      answer();
      return later(1_000, () => answer());
    }
    mdns?.query({ questions: [{ name, type: 'ANY' as 'A' }], authorities: records(KEEP_S, false) });
    later(PROBE_MS, () => ask(left - 1));
  };
  const failed = (error: unknown) => {
    if (mdns === null) return;
    clearTimeout(wait);
    try {
      mdns.destroy();
    } catch { /* it never stood */ }
    mdns = null;
    set(false);
    warn(`The name ${name} cannot be answered for here (${error instanceof Error ? error.message : String(error)}). The address works all the same.`);
  };

  mdns = makeMdns(options);
  mdns.on('error', failed);
  mdns.on('warning', () => { /* a packet that is none, or an interface that takes no part */ });
  // A network that comes later, as after a power cut, or another one.
  (mdns as NodeJS.EventEmitter).on('networkInterface', () => { if (!ours) ask(); else answer(); });
  mdns.on('query', ({ id, questions = [], authorities }, from) => {
    const theirs = among(authorities);
    const mine = addresses();
    if (!ours) {
      // Another asks for itself at this moment; our own packets come back to us too.
      if (theirs.length > 0 && theirs.some((a) => !mine.includes(a)) && claim(mine, theirs) < 0) later(LOST_TIE_MS, () => ask());
      return;
    }
    const about = questions.filter((q) => is(q.name) && ['A', 'AAAA', 'ANY'].includes(q.type as string));
    if (about.length === 0 || mine.length === 0 || theirs.some((a) => mine.includes(a))) return;
    if (from.port !== port) {
      const plain = about.some((q) => q.type !== 'AAAA') ? records(KEEP_PLAIN_S, false) : [];
      mdns?.respond({ id, questions: about, answers: plain, additionals: [nothingElse(KEEP_PLAIN_S, false)] } as Parameters<MulticastDNS['respond']>[0], from);
      return;
    }
    const nowMs = monotonicMs();
    if (nowMs - answeredMs < ANSWER_EVERY_MS && theirs.length === 0) return;
    answeredMs = nowMs;
    answer();
  });
  mdns.on('response', ({ answers, additionals }) => {
    const mine = addresses();
    const other = among([...(answers ?? []), ...(additionals ?? [])].filter((r) => !('ttl' in r) || r.ttl !== 0)).find((a) => !mine.includes(a));
    if (other === undefined || mine.length === 0) return;
    if (ours) {
      // Section 9: both ask again; who has the better claim keeps the name, the other hears its answer.
      set(false);
      return claim(mine, [other]) < 0 ? later(LOST_TIE_MS, () => ask()) : ask();
    }
    later(AGAIN_MS, () => ask());
    if (told) return;
    told = true;
    warn(`Another device in this network (${other}) has the name ${name}. Screens and phones find this server by its address. Give it another name with HALLCLOCK_SHORT_NAME, or the other device.`);
  });
  return {
    ours: () => ours,
    close: () => new Promise((resolve) => {
      clearTimeout(wait);
      const socket = mdns;
      mdns = null;
      if (socket === null) return resolve();
      const end = () => socket.destroy(resolve);
      if (ours) socket.respond({ answers: records(0, true) }, undefined as never, end);
      else end();
      ours = false;
    }),
  };
}
