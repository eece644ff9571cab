/** Owns the way between the desk's pages; where houses are looked over from here, to these too. */
import { useContext } from 'react';
import { deskBodySchema } from '../../../shared/wire/desk.ts';
import { AtHome } from '../../common/at-home.ts';
import { useGet } from '../../common/use-get.ts';

const pages = [['/desk', 'Log'], ['/desk/plans', 'Plans'], ['/desk/timetable', 'Timetable'], ['/desk?now', 'Now'], ['/desk?review', 'Review'], ['/desk?devices', 'Devices']] as const;
const overHouses = [['/desk/all', 'All houses']] as const;
type Address = (typeof pages)[number][0] | (typeof overHouses)[number][0];

export function DeskNav({ here }: { here: Address | null }) {
  const [got] = useGet(useContext(AtHome) ? null : '/api/desk', deskBodySchema);
  const houses = here === '/desk/all' || (got !== null && 'ok' in got && got.ok.houses !== undefined);
  return (
    <nav className="desk-nav" aria-label="Desk">
      {[...pages, ...(houses ? overHouses : [])].map(([address, words]) => <a key={address} href={address} aria-current={address === here ? 'page' : undefined}>{words}</a>)}
    </nav>
  );
}
