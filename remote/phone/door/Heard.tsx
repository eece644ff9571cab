/** Owns whether the room can be heard: one signal from where signals sound, and yes or no. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { usePhoneSound } from '../sound/use-phone-sound.tsx';

export function Heard({ room, onFound }: { room: Room; onFound: (how: 'good' | 'bad') => void }) {
  const [said, say] = useState<string | null>(null);
  const [rung, setRung] = useState(false);
  const phone = usePhoneSound();
  const ring = async () => {
    setRung(true);
    if (phone?.alone || phone?.about.wants.from === 'phone') {
      await phone.sound.unlock();
      say(phone.sound.problem);
      return phone.sound.test('go');
    }
    const reply = await room.sound({ do: 'ring', kind: 'go' });
    if ('sentence' in reply) say(reply.sentence);
    else say(reply.screens === 0 ? 'No screen of this room sounds just now. Touch it once: its browser waits for that. Then sound it again.' : null);
  };
  return (
    <>
      <h2>Can the room be heard?</h2>
      <button type="button" className="control door-ring" onClick={() => void ring()}>{rung ? 'Sound it again' : 'Sound one signal'}</button>
      {rung && (
        <div className="yes-no">
          <button type="button" className="control strong" onClick={() => onFound('good')}>Yes</button>
          <button type="button" className="control" onClick={() => { onFound('bad'); say('Turn up the screen and its loudspeaker, and touch the screen once. The words on it say everything that sounds do.'); }}>No</button>
        </div>
      )}
      {said && <p className="sentence" role="alert">{said}</p>}
    </>
  );
}
