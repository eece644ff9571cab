/** Owns the wall while there is nothing to show: it says why, and what to do. */
import type { LinkState } from '../../../shared/link/types.ts';
import type { DoorWords } from '../../../shared/words/catalogue.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';

export function Waiting({ link }: { link: LinkState }) {
  const { doors: say, refused } = useLanguage().say;
  return (
    <div className="waiting">
      <Fit className="title" text={link.state === 'refused' ? (refused[link.reason.reason] ?? link.reason.sentence) : sayingOf(link, say)} most={10} lines={4} />
    </div>
  );
}

function sayingOf(link: Exclude<LinkState, { state: 'refused' }>, say: DoorWords): string {
  switch (link.state) {
    case 'lost': return say.noAnswer;
    case 'connecting': return link.attempt > 1 ? say.noAnswer : say.oneMoment;
    case 'joining':
    case 'live': return say.oneMoment;
  }
}
