/** Owns what the phone says of its connection: nothing while it is live. */
import type { LinkState } from '../../../shared/link/types.ts';

export function linkWords(link: LinkState): string {
  switch (link.state) {
    case 'live': return '';
    case 'connecting': return link.attempt > 1 ? 'Looking for the studio' : 'Connecting';
    case 'joining': return 'Connecting';
    case 'lost': return 'No connection';
    case 'refused': return link.reason.sentence;
  }
}
