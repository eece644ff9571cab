/** Owns the six places for what instructors say, above the big control. A place never moves. */
import type { Controls } from '../../../shared/view/controls.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { Control } from './Control.tsx';

export function Buttons({ can, settingUp, taps }: { can: Controls; settingUp: boolean; taps: Taps }) {
  const match = can.evenUp && <Control name="even-up" command={can.evenUp.command} taps={taps} className={settingUp ? 'tight' : 'wide'}>Match the other side</Control>;
  return (
    <div className="buttons">
      <Control name="again" command={can.again} taps={taps}>Again</Control>
      {settingUp && match ? match : <Control name="more" command={can.more} taps={taps}>Ten more</Control>}
      <Control name="keep-moving" command={can.keepMoving} taps={taps}>Keep moving</Control>
      {settingUp ? (
        <>
          <Control name="wait" command={can.wait} taps={taps}>Wait</Control>
          <Control name="ready" command={can.ready} taps={taps}>All ready</Control>
        </>
      ) : (match ?? <Control name="change-sides" command={can.changeSides} taps={taps} className="wide">Change sides</Control>)}
      <Control name="move-on" command={can.moveOn} taps={taps}>Move on</Control>
    </div>
  );
}
