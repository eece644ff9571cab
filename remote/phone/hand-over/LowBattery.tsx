/** Owns saying that the phone will not last: plug in, or hand over in one tap. */
import { isLow, useBattery } from './use-battery.ts';

export function LowBattery({ onHandOver }: { onHandOver: () => void }) {
  const charge = useBattery();
  if (!isLow(charge)) return null;
  return (
    <div className="head-note" role="status">
      <p><b>Battery {charge.percent} %.</b> Plug in or hand over.</p>
      <button type="button" className="control" onClick={onHandOver}>Hand over</button>
    </div>
  );
}
