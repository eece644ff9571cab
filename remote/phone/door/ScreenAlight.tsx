/** Owns whether the screen is alight: it shows a picture, and whoever sees it taps the same. No page can know its panel. */
import { useEffect, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { DoorPicture } from '../../../shared/ui/DoorPicture.tsx';
import type { DoorPicture as Id } from '../../../shared/view/door-pictures.ts';

interface Shown { readonly picture: Id; readonly among: readonly Id[] }

export function ScreenAlight({ room, onFound }: { room: Room; onFound: (how: 'good' | 'bad') => void }) {
  const [shown, setShown] = useState<Shown | null>(null);
  const [said, say] = useState<string | null>(null);
  const { tell } = room;
  const show = async () => {
    const told = await tell({ do: 'picture' });
    if ('sentence' in told) return say(told.sentence);
    say(null);
    if (told.picture && told.among) setShown({ picture: told.picture, among: told.among });
  };
  // Shown as soon as the step is there, and put away with it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: once for each visit
  useEffect(() => {
    void show();
    return () => { void tell({ do: 'picture-done' }); };
  }, [tell]);
  const tap = (id: Id) => {
    if (id === shown?.picture) return onFound('good');
    onFound('bad');
    say('The screen shows another one. Look again, or look whether this is the right room.');
    void show();
  };
  const noScreen = room.about?.present.screens === 0;
  return (
    <>
      <h2>Tap what the screen shows</h2>
      {noScreen && <p>No screen of this room is connected. The phone alone can run the class: start it, then choose “Big digits”.</p>}
      {shown && <div className="pictures">{shown.among.map((id) => <button key={id} type="button" className="control" aria-label={id} onClick={() => tap(id)}><DoorPicture id={id} size="70%" /></button>)}</div>}
      {said && <p className="sentence" role="alert">{said}</p>}
      <button type="button" className="control" onClick={() => { onFound('bad'); say('Is the panel switched on, and on the right input? A key or a touch wakes it. Then tap the picture.'); }}>It is dark</button>
    </>
  );
}
