/** Owns opening the phone on the class that is due by the timetable: once for each, so that whoever goes back stays back. */
import { useEffect, useRef } from 'react';
import { serverAt } from '../../../shared/time/units.ts';
import { clockTime } from '../../../shared/view/words.ts';
import { type PlanSummary, plansSchema } from '../../../shared/wire/http.ts';
import { dueSchema } from '../../../shared/wire/plans.ts';
import { ask } from '../../common/get.ts';
import type { Free } from './FreeAt.tsx';

const LOOK_MS = 15_000;
/** Classes that were opened already, for as long as the page is. */
const opened = new Set<string>();

interface Asked {
  readonly room: string | undefined;
  readonly timeZone: string | undefined;
  /** Nothing else is open on the phone. */
  readonly idle: boolean;
  readonly open: (plan: PlanSummary, free: Free) => void;
}

export function useDue({ room, timeZone, idle, open }: Asked): void {
  const opens = useRef(open);
  opens.current = open;
  useEffect(() => {
    if (room === undefined || timeZone === undefined || !idle) return;
    let here = true;
    const look = async () => {
      const got = await ask(`/api/rooms/${encodeURIComponent(room)}/due`, dueSchema);
      const due = 'ok' in got ? got.ok.due : null;
      if (!here || !due) return;
      const key = `${room} ${due.plan} ${due.startAt}`;
      if (opened.has(key)) return;
      const plans = await ask('/api/plans', plansSchema);
      const plan = 'ok' in plans ? plans.ok.plans.find((p) => p.id === due.plan && p.problem === null) : undefined;
      if (!here || !plan) return;
      opened.add(key);
      opens.current(plan, { how: 'at', hhmm: clockTime(serverAt(due.endAt), timeZone) });
    };
    void look();
    const timer = setInterval(() => void look(), LOOK_MS);
    return () => { here = false; clearInterval(timer); };
  }, [room, timeZone, idle]);
}
