/** Owns the address that somebody types into a phone: the short name where it leads here, and always the one that every phone finds. */
import type { Room } from '../../../shared/link/types.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';

interface AddressProps {
  readonly pairing: NonNullable<NonNullable<Room['about']>['pairing']>;
  /** Units of font size. */
  readonly most: number;
  readonly least: number;
}

export function Address({ pairing: { address, short }, most, least }: AddressProps) {
  const { say } = useLanguage();
  return (
    <>
      <Fit className="address" text={short ?? address} most={most} least={least} lines={1} />
      {short !== undefined && <Fit className="or-address" text={say.doors.orAddress(address)} most={most * 0.75} least={least * 0.8} lines={1} />}
    </>
  );
}
