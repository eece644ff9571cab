/** Owns what the phone shows before it knows its room: what it waits for, and a way out. */
import type { Room } from '../../shared/link/types.ts';
import { linkWords } from './class/link-words.ts';

export function Waiting({ room, onPairAgain }: { room: Room; onPairAgain: () => void }) {
  const { link } = room;
  return (
    <main className="page pair">
      <h1>{link.state === 'refused' ? 'Not in this room' : 'Hallclock'}</h1>
      <p role="status">{linkWords(link) || 'One moment.'}</p>
      {link.state === 'lost' && <p>It tries again by itself. Check that this phone is in the studio’s Wi-Fi.</p>}
      {(link.state === 'refused' || link.state === 'lost') && <button type="button" className="control" onClick={onPairAgain}>Pair with a screen</button>}
      {link.state === 'refused' && <button type="button" className="control" onClick={() => window.location.reload()}>Reload</button>}
    </main>
  );
}
