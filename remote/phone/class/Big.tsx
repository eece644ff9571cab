/** Owns the big control: always the one thing to do now, for a thumb, a pedal, a clicker or a keyboard. */
import type { RunningCommand } from '../../../shared/session/command.ts';
import type { Controls } from '../../../shared/view/controls.ts';
import { useDeadTime } from '../hooks/use-dead-time.ts';
import { useKeys } from '../hooks/use-keys.ts';
import type { Taps } from '../hooks/use-taps.ts';

export interface Does {
  readonly command: RunningCommand;
  readonly word: string;
  /** What a tap would mean: another go is another meaning, so that a double tap never goes twice. */
  readonly meaning: string;
}

/** Who has stood for long moves easily before carrying on; the plain way is beside it. */
export function bigOf(can: Controls): Does | null {
  const { big, easyFirst } = can;
  if (big?.type === 'carry-on' && easyFirst) return { command: easyFirst, word: 'Two minutes easy', meaning: `easy ${big.pause}` };
  switch (big?.type) {
    case undefined: return null;
    case 'go': return { command: big, word: 'Go', meaning: `go ${big.occurrence}` };
    case 'pause': return { command: big, word: 'Pause', meaning: 'pause' };
    case 'carry-on': return { command: big, word: 'Carry on', meaning: `carry-on ${big.pause}` };
  }
}

export function Big({ does, hint, taps }: { does: Does; hint: string; taps: Taps }) {
  const alive = useDeadTime(does.meaning);
  const press = () => { if (alive()) void taps.tap('big', does.command); };
  useKeys(press);
  return (
    <button type="button" className="big" data-does={does.command.type} data-state={taps.sending.has('big') ? 'sending' : 'ready'} onClick={press}>
      <span className="big-word">{does.word}</span>
      {hint && <span className="big-hint">{hint}</span>}
    </button>
  );
}
