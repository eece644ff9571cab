/** Owns all houses as they are now: what runs in their rooms, and which of them was not heard lately. In the order of the settings: nothing here is a ranking. */
import { useEffect, useState } from 'react';
import { serverAt } from '../../../shared/time/units.ts';
import { clockTime } from '../../../shared/view/words.ts';
import { type AllLive, allLiveSchema } from '../../../shared/wire/all.ts';
import { useGet } from '../../common/use-get.ts';
import { OnlyWithPassword } from '../door/OnlyWithPassword.tsx';
import { DeskNav } from '../review/DeskNav.tsx';
import { RoomNow } from '../review/NowPage.tsx';
import { classes, count, list } from '../review/say.ts';
import { AllNav } from './AllNav.tsx';

const AGAIN_MS = 5_000;
/** A house whose own server was not heard for so long is away: what is told of it goes on from there. */
const AWAY_MS = 3 * 60_000;

type House = AllLive['houses'][number];
const runs = ({ class: held }: House['rooms'][number]): boolean => held !== null && !held.over;

export function AllNowPage() {
  const [got, again] = useGet('/api/all/live', allLiveSchema);
  const [live, keep] = useState<AllLive | null>(null);
  useEffect(() => {
    if (!got) return;
    if ('ok' in got) keep(got.ok);
    const timer = setTimeout(again, AGAIN_MS);
    return () => clearTimeout(timer);
  }, [got, again]);
  return (
    <main className="desk review-page">
      <DeskNav here="/desk/all" />
      <AllNav here="now" />
      <header><h1>All houses now</h1>{live && <p>{together(live.houses)}</p>}</header>
      {got && 'problem' in got && <><p className="sentence" role="alert">{got.problem}</p>{!live && <OnlyWithPassword />}</>}
      {!live && !got && <p className="quiet-words">One moment.</p>}
      {live && <ul className="houses-now">{live.houses.map((house) => <HouseNow key={house.id} house={house} live={live} />)}</ul>}
    </main>
  );
}

/** "3 classes run in 2 of 4 houses, with 31 people: heads were counted in 2 of the classes." */
export function together(houses: readonly House[]): string {
  const on = houses.flatMap((h) => h.rooms.filter(runs));
  if (on.length === 0) return 'No class runs.';
  const counted = on.flatMap((r) => r.class?.headCount ?? []);
  const heads = count(counted.reduce((n, c) => n + c, 0), 'person', 'people');
  const where = `in ${houses.filter((h) => h.rooms.some(runs)).length} of ${count(houses.length, 'house', 'houses')}`;
  const of = counted.length === on.length ? '' : `: heads were counted in ${counted.length} of the classes`;
  return `${classes(on.length)} ${on.length === 1 ? 'runs' : 'run'} ${where}${counted.length === 0 ? '' : `, with ${heads}${of}`}.`;
}

export function HouseNow({ house, live }: { house: House; live: AllLive }) {
  const busy = house.rooms.filter((r) => r.class !== null);
  const idle = house.rooms.filter((r) => r.class === null).map((r) => r.name);
  const at = (ms: number) => clockTime(serverAt(ms), house.timeZone);
  const zones = new Set(live.houses.map((h) => h.timeZone));
  const away = house.heardAt !== null && live.now - house.heardAt > AWAY_MS;
  return (
    <li>
      <div className="house-name">
        <h2>{house.name}</h2>
        {zones.size > 1 && <p className="quiet-words">{at(live.now)} there</p>}
      </div>
      <div className="house-rooms">
        {away && <p className="sentence">Not heard since {at(house.heardAt ?? 0)}. Classes go on there; what is shown goes on from what was heard last.</p>}
        {busy.length > 0 && <ul className="now-rooms">{busy.map((room) => <RoomNow key={room.id} room={room} now={live.now} timeZone={house.timeZone} here={false} />)}</ul>}
        {idle.length > 0 && <p className="quiet-words">Nothing on in {list(idle)}.</p>}
        {house.rooms.length === 0 && <p className="quiet-words">No class has been heard of yet.</p>}
      </div>
    </li>
  );
}
