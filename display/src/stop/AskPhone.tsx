/** Owns the code on the wall of a class that has no phone, or whose phone is handed over: shown only while nobody works. */
import type { Room } from '../../../shared/link/types.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { usePicture } from '../../../shared/ui/wall/picture.ts';
import { Address } from '../doors/Address.tsx';
import { Qr } from '../doors/Qr.tsx';

export function AskPhone({ pairing }: { readonly pairing: NonNullable<NonNullable<Room['about']>['pairing']> }) {
  const { doors: say } = useLanguage().say;
  const { far, upright } = usePicture();
  // In a large hall the strip under the floor is lower, in units that are larger.
  const scale = far && !upright ? 0.7 : 1;
  return (
    <aside className="ask-phone">
      <Qr text={pairing.url} />
      <div className="ask-words">
        <p className="label">{say.toLead}</p>
        <Address pairing={pairing} most={4.4 * scale} least={2.8 * scale} />
        <p className="code" dir="ltr">{pairing.code.replace(/^(\d{3})(\d{3})$/, '$1 $2')}</p>
      </div>
    </aside>
  );
}
