/** Owns the wall while there is nothing to show: it says why, and what to do. */
import type { LinkState } from '../../../shared/link/types.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';

export function Waiting({ link }: { link: LinkState }) {
  return (
    <div className="waiting">
      <Fit className="title" text={sayingOf(link)} most={10} lines={4} />
    </div>
  );
}

function sayingOf(link: LinkState): string {
  switch (link.state) {
    case 'refused': return link.reason.sentence;
    case 'lost': return 'The server does not answer. This screen goes on trying.';
    case 'connecting': return link.attempt > 1 ? 'The server does not answer. This screen goes on trying.' : 'One moment';
    case 'joining':
    case 'live': return 'One moment';
  }
}
