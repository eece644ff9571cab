/** Owns the control that stops the room: alone in the top corner, one plain tap, without any dead time. */
import { useStopHand } from './hand.ts';

export function StopButton() {
  const stop = useStopHand();
  // On the way down, not up: a hand that shakes slides off before it lets go.
  return <button type="button" className="stop-corner" onPointerDown={() => stop?.press()} onClick={() => stop?.press()}>Stop</button>;
}
