/** Owns the ground of a simulated server that has no other: a computer with its clocks and its own disk. Follows server/studio.ts line by line. */
import { runs } from '../../server/core/room.ts';
import { clockName, type TimeMark, timeMark } from '../../server/core/server-time.ts';
import { replay } from '../../shared/session/evolve.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import { type Chance, spread } from './chance.ts';
import type { Disk } from './disk.ts';
import type { Footing, Ground } from './ground.ts';
import type { VirtualTime } from './virtual-time.ts';

const WORLD_BEGAN_AT = 1_750_000_000_000;

export class Alone implements Ground {
  wallStepMs = 0;
  broken: (rule: string, sentence: string) => void = () => {};
  private boots = 1;
  private epochs = 0;
  /** As the clock of the last process would go on: the truth while nothing runs. */
  private mark: TimeMark | null = null;
  private bootedAt = -3_600_000;
  private readonly time: VirtualTime;
  private readonly disk: Disk;
  private readonly chance: Chance;

  constructor(time: VirtualTime, disk: Disk, chance: Chance) {
    this.time = time;
    this.disk = disk;
    this.chance = chance;
  }

  private get monotonicMs(): number {
    return this.time.now - this.bootedAt;
  }
  readonly truth = (): number => this.monotonicMs + (this.mark?.offsetMs ?? 0);
  readonly epoch = (): number => this.epochs;
  readonly ended = (): void => { this.disk.restarted(); };
  readonly booted = (): void => {
    this.boots += 1;
    this.bootedAt = this.time.now - spread(this.chance, 5_000, 30_000);
  };

  readonly begin = (alive: () => boolean, stands: (footing: Footing) => void): void => {
    const { time, disk } = this;
    const rows = disk.kept.latest();
    const lastAt = rows.at(-1)?.event.at ?? 0;
    const bootId = `boot ${this.boots}`;
    const read = { wallMs: Math.floor(WORLD_BEGAN_AT + time.now + this.wallStepMs), monotonicMs: this.monotonicMs, bootId };
    const asStored = timeMark(read, disk.mark, true, lastAt);
    const classRuns = runs(replay(rows.map((row) => row.event)), serverAt(Math.floor(read.monotonicMs + asStored.offsetMs)));
    const mark = timeMark(read, disk.mark, classRuns, lastAt);
    disk.mark = mark;
    const ranOn = this.mark?.bootId === bootId && runs(replay(rows.map((row) => row.event)), serverAt(Math.floor(this.truth())));
    if (ranOn && mark.offsetMs !== this.mark?.offsetMs) this.broken('K42', 'a crash moved the clock of a class that runs');
    if (mark.bootId !== this.mark?.bootId || mark.offsetMs !== this.mark.offsetMs) this.epochs += 1;
    this.mark = mark;
    const exact = () => this.monotonicMs + mark.offsetMs;
    stands({
      rows, store: disk.store(alive), clock: () => clockName(mark), exact, shared: false,
      timer: (at: ServerAt, run) => time.after(Math.max(0, Math.ceil(at - exact())), () => { if (alive()) run(); }),
      opened: () => {},
      toOthers: () => {},
    });
  };
}
