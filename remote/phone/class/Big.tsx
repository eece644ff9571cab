/** Owns the big control: always the one thing to do now, for a thumb, a pedal, a clicker or a keyboard. */
import type { Controls } from '../../../shared/view/controls.ts';
import { useDeadTime } from '../hooks/use-dead-time.ts';
import { useKeys } from '../hooks/use-keys.ts';
import type { Taps } from '../hooks/use-taps.ts';

type Command = NonNullable<Controls['big']>;

/** What a tap would mean: another go is another meaning, so that a double tap never goes twice. */
function meaningOf(big: Command): string {
  switch (big.type) {
    case 'go': return `go ${big.occurrence}`;
    case 'pause': return 'pause';
    case 'carry-on': return `carry-on ${big.pause}`;
  }
}
const words: Record<Command['type'], string> = { go: 'Go', pause: 'Pause', 'carry-on': 'Carry on' };

export function Big({ big, hint, taps }: { big: Command; hint: string; taps: Taps }) {
  const meaning = meaningOf(big);
  const alive = useDeadTime(meaning);
  const press = () => { if (alive()) void taps.tap('big', big); };
  useKeys(press);
  return (
    <button type="button" className="big" data-does={big.type} data-state={taps.sending.has('big') ? 'sending' : 'ready'} onClick={press}>
      <span className="big-word">{words[big.type]}</span>
      {hint && <span className="big-hint">{hint}</span>}
    </button>
  );
}
