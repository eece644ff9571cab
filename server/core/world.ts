/** Owns a room on virtual time with a store whose answers a test holds in its hand. For tests of the core only. */
import { factsOf } from '../../shared/plan/facts.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import type { Session } from '../../shared/session/session.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import { view } from '../../shared/view/view.ts';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import type { News } from '../../shared/wire/messages/news.ts';
import { memoryStore } from './memory-store.ts';
import { openRoom, type RoomCore } from './room.ts';
import type { Appended, Store } from './store.ts';

export const plan = planSchema.parse({
  format: 1, id: 'short', name: 'Short class',
  sections: [
    { id: 'welcome', kind: 'welcome', talk: 30 },
    { id: 'main', kind: 'main', rounds: 2, work: 40, rest: 20, show: 'none', items: [{ movement: 'squat' }, { movement: 'march' }] },
  ],
});
const facts = Object.fromEntries(['squat', 'march'].map((id) => [id, factsOf({
  name: id, start: 'standing', end: 'standing', sides: 'together', option: { words: 'smaller' },
} as Parameters<typeof factsOf>[0])]));

export const start = { type: 'start', plan: 'short', freeAt: null } as const;
export const pause = { type: 'pause', reason: null } as const;

type Outcome = 'stored' | 'failed' | 'unknown, kept' | 'unknown, lost';
const settle = async () => { for (let i = 0; i < 50; i += 1) await Promise.resolve(); };
let ids = 0;

export async function openWorld(store: Store = memoryStore(), from: ServerAt = serverAt(1_800_000_000_000)) {
  let at: number = from;
  const timers = new Set<{ at: number; run: () => void }>();
  const news: News[] = [];
  const warnings: string[] = [];
  let gate: { opened: Promise<Outcome> } | null = null;
  let unreadable = 0;
  let classes = (await store.classes(null, 100)).classes.length;

  const appended = async (batch: Parameters<Store['append']>[0]): Promise<Appended> => {
    const outcome = gate ? await gate.opened : 'stored';
    gate = null;
    switch (outcome) {
      case 'stored': return store.append(batch);
      case 'failed': return 'failed';
      case 'unknown, kept': await store.append(batch); return 'unknown';
      case 'unknown, lost': return 'unknown';
    }
  };
  const core = openRoom({
    id: 'garden',
    store: {
      ...store,
      append: appended,
      log: (id, after) => {
        unreadable -= 1;
        return unreadable >= 0 ? Promise.reject(new Error('the disk does not answer')) : store.log(id, after);
      },
    },
    now: () => serverAt(at),
    timer: (when, run) => {
      const timer = { at: when, run };
      timers.add(timer);
      return () => { timers.delete(timer); };
    },
    newId: () => {
      classes += 1;
      return `class-${classes}`;
    },
    plan: async (id) => (id === 'short' ? { plan, facts } : id === 'broken' ? { broken: 'broken.json, at sections[0].work: at least 1 s.' } : null),
    movement: async (id) => facts[id] ?? null,
    news: (message) => { news.push(message); },
    changed: () => {},
    warn: (sentence) => { warnings.push(sentence); },
  }, await store.latest('garden'));

  const session = (): Session => {
    const s = core.session();
    if (!s) throw new Error('no class');
    return s;
  };
  const w = {
    core, store, news, warnings, session, settle,
    now: (ms = 0): ServerAt => serverAt(at + ms),
    seen: () => view(session(), serverAt(at)),
    say: (command: CommandMessage['command']) => core.command(commandOf(w, command), serverAt(at)),
    /** The next append waits until it is released with an outcome. */
    holdAppends: () => {
      let release: (outcome: Outcome) => void = () => {};
      gate = { opened: new Promise((resolve) => { release = resolve; }) };
      return { release };
    },
    unreadable: (times: number) => { unreadable = times; },
    advance: async (ms: number) => {
      const end = at + ms;
      for (;;) {
        await settle();
        const next = [...timers].filter((t) => t.at <= end).sort((a, b) => a.at - b.at)[0];
        if (!next) break;
        timers.delete(next);
        at = Math.max(at, next.at);
        next.run();
      }
      at = end;
      await settle();
    },
  };
  return w;
}

export function commandOf(w: { readonly core: RoomCore; readonly now: () => ServerAt }, command: CommandMessage['command']): CommandMessage {
  ids += 1;
  return {
    id: `00000000-0000-4000-8000-${String(ids).padStart(12, '0')}`,
    session: command.type === 'start' ? null : (w.core.log()?.id ?? null),
    saidAt: w.now(),
    command,
  };
}
