/** Owns one button of a class: pressed at once, sending, done, grey; its own dead time when its meaning changes. */
import type { ReactNode } from 'react';
import type { RunningCommand } from '../../../shared/session/command.ts';
import { useDeadTime } from '../hooks/use-dead-time.ts';
import type { Taps } from '../hooks/use-taps.ts';

interface Props {
  readonly name: string;
  readonly command: RunningCommand | null;
  readonly taps: Taps;
  readonly className?: string;
  readonly children: ReactNode;
}

export function Control({ name, command, taps, className = '', children }: Props) {
  const alive = useDeadTime(name);
  const state = taps.sending.has(name) ? 'sending' : taps.done === name ? 'done' : 'ready';
  return (
    <button
      type="button"
      className={`control ${className}`}
      data-state={state}
      disabled={command === null}
      onClick={() => { if (command && alive()) void taps.tap(name, command); }}
    >
      {children}
    </button>
  );
}
