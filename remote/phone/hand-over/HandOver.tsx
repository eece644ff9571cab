/** Owns handing the class to another phone: the code for it, large enough to be read across. */
import { useEffect, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { Sheet } from '../class/Sheet.tsx';

interface Code { readonly code: string; readonly url: string | null }

export function HandOver({ room, onClose }: { room: Room; onClose: () => void }) {
  const [code, setCode] = useState<Code | null>(null);
  const [sentence, say] = useState<string | null>(null);
  const { tell } = room;
  useEffect(() => {
    let here = true;
    void tell({ do: 'hand-over' }).then((told) => {
      if (!here) return;
      if ('sentence' in told) say(told.sentence);
      else if (told.code) setCode({ code: told.code, url: told.url ?? null });
    });
    return () => { here = false; };
  }, [tell]);
  const done = room.about !== null && room.about.people.lead !== null && room.about.people.lead !== room.about.you;
  const address = code?.url ? code.url.replace(/^https?:\/\//, '').replace(/\?.*$/, '') : null;
  return (
    <Sheet title={done ? 'Handed over' : 'Hand over'} sentence={sentence} onClose={onClose}>
      {done && <p>Another phone runs this class now. This one may rest.</p>}
      {!done && code && (
        <>
          <p>On the other phone{address ? <> open <b>{address}</b> and</> : ''} type</p>
          <p className="hand-code">{code.code.slice(0, 3)} {code.code.slice(3)}</p>
          <p className="quiet-words">The screen shows it too, as soon as nobody works. This phone goes on until then.</p>
        </>
      )}
      {!done && !code && !sentence && <p>One moment.</p>}
    </Sheet>
  );
}
