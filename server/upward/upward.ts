/**
 * Owns when a studio's own server speaks to the chain's, up and down: soon after something was done, now and then where nothing
 * was, and after a failure at growing distances that chance spreads, so that a chain that comes back is not met by all
 * its studios at once. Classes never wait for it. Time, timers and chance are handed in.
 */
import { z } from 'zod';
import { after, type ServerAt } from '../../shared/time/units.ts';
import type { ChainStands } from '../../shared/wire/house.ts';
import type { Kept } from '../people/kept.ts';
import type { Down } from './down.ts';
import { Hindered } from './hindered.ts';
import { openSender, type SendNeeds } from './send.ts';

/** Shown at the desk after a restart while the line is down; the copy itself needs none of it. */
export const upwardFileSchema = z.strictObject({
  chain: z.string(), upTo: z.number().nullable(), heardAt: z.number().nullable(),
  /** Number of the class up to which all is there. */
  settled: z.number(),
});
export type UpwardFile = z.infer<typeof upwardFileSchema>;
export const noUpwardFile: UpwardFile = { chain: '', upTo: null, heardAt: null, settled: 0 };

/** The log here is looked at this often. */
const LOOK_MS = 3_000;
const AGAIN_LEAST_MS = 1_000;
const AGAIN_MOST_MS = 60_000;
/** What the chain plans is asked for this often. */
const PLANS_MS = 15_000;
/** What the desk shows after a restart is written down no oftener. */
const WRITE_MS = 60_000;

export interface UpwardNeeds extends SendNeeds {
  readonly chain: string;
  readonly file: Kept<UpwardFile>;
  readonly down: Down;
  readonly timer: (at: ServerAt, run: () => void) => () => void;
  /** From 0 up to, not including, 1. */
  readonly chance: () => number;
  readonly warn: (sentence: string) => void;
}

export interface Upward {
  readonly stands: () => Promise<NonNullable<ChainStands['upward']>>;
  readonly down: Down;
  /** Resolves when what is under way is done. */
  readonly stop: () => Promise<void>;
}

/** How long to wait after so many failures: twice as long each time, half of it by chance. */
export const againMs = (failures: number, chance: () => number): number => {
  const most = Math.min(AGAIN_MOST_MS, AGAIN_LEAST_MS * 2 ** Math.min(failures, 20));
  return most / 2 + (chance() * most) / 2;
};

export function openUpward(needs: UpwardNeeds): Upward {
  const { chain, file, down, now, timer, chance, warn } = needs;
  const sender = openSender(needs);
  const before = file.now().chain === chain ? file.now() : noUpwardFile;
  let trouble: string | null = null;
  let failures = 0;
  let stopped = false;
  let wroteAt: number | null = null;
  let askedAt: number | null = null;
  let plansTrouble: string | null = null;
  let callOff = (): void => {};
  let working: Promise<void> | null = null;

  const write = async (): Promise<void> => {
    wroteAt = now();
    await file.keep({ chain, upTo: sender.upTo() ?? before.upTo, heardAt: sender.heardAt() ?? before.heardAt, settled: Math.max(sender.settled(), before.settled) });
  };
  async function round(): Promise<void> {
    let waitMs = LOOK_MS;
    try {
      await sender.pass();
      if (trouble !== null) warn(`The chain is reached again. ${trouble}`);
      trouble = null;
      failures = 0;
      if (sender.upTo() !== null && (wroteAt === null || now() - wroteAt >= WRITE_MS)) await write();
      if (askedAt === null || now() - askedAt >= PLANS_MS) {
        askedAt = now();
        // What cannot be taken down does not hold up the log.
        plansTrouble = await down.pass().then(() => null, (error: unknown) => (error instanceof Hindered ? error.message : `What the chain plans could not be taken: ${String(error)}.`));
      }
    } catch (error) {
      const hindered = error instanceof Hindered ? error : new Hindered(`What was done here cannot be read: ${String(error)}.`);
      // Said once, not at every try.
      if (trouble !== hindered.message) warn(`${hindered.message} Classes go on; what is done waits here.`);
      trouble = hindered.message;
      failures += 1;
      waitMs = Math.max(hindered.waitMs ?? 0, againMs(failures, chance));
    }
    working = null;
    if (!stopped) callOff = timer(after(now(), waitMs), begin);
  }
  function begin(): void {
    working = round();
  }
  begin();

  return {
    stands: async () => ({
      chain,
      upTo: sender.upTo() ?? before.upTo,
      heardAt: sender.heardAt() ?? before.heardAt,
      waiting: trouble === null && sender.upTo() === null ? 0 : await sender.waiting(before.settled).catch(() => 0),
      troubles: [...(trouble === null ? [] : [trouble]), ...sender.troubles(), ...(plansTrouble === null || trouble !== null ? [] : [plansTrouble]), ...down.troubles()],
      plansAt: down.plansAt(),
      conflicts: await down.conflicts().then(({ plans, lines }) => plans.length + lines.length, () => 0),
    }),
    down,
    stop: async () => {
      stopped = true;
      callOff();
      await working;
      if (sender.upTo() !== null) await write();
    },
  };
}
