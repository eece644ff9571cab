/** Owns when the screens of a room show the code by which a phone joins, and where it is typed. Leaves alone who made it (pairing.ts). */
import type { Snapshot } from '../../shared/wire/messages/snapshot.ts';
import type { Found } from '../address.ts';
import { type Hall, pairable, type Studio } from '../studio.ts';

export function openShownCode({ codes, clock }: Pick<Studio, 'codes' | 'clock'>, where: () => Found) {
  const of = (hall: Hall) => {
    const { code, until } = codes.of(hall.about.id, clock.now());
    const { typed, origin, short } = where();
    return { code, until, address: `${typed}/phone`, ...(short === undefined ? {} : { short: `${short}/phone` }), url: `${origin}/phone?code=${code}` };
  };
  return {
    of,
    /** How a phone joins: for screens, where nobody can be working. Asking for it makes the code. */
    pairing: (hall: Hall): Snapshot['pairing'] => {
      const session = hall.core.session();
      if (!pairable(session, clock.now()) && !hall.people.asksForPhone(session, clock.now())) return null;
      const { until: _until, ...pairing } = of(hall);
      return pairing;
    },
  };
}
