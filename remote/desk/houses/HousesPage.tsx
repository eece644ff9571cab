/** Owns the page of houses at the chain's desk: which studios report here, when each was last heard, what hinders it, and a new key for one. */
import { useState } from 'react';
import { houseKeyBodySchema, type HousesBody, housesSchema } from '../../../shared/wire/house.ts';
import { ask } from '../../common/get.ts';
import { useGet } from '../../common/use-get.ts';
import { OnlyWithPassword } from '../door/OnlyWithPassword.tsx';
import { DeskNav } from '../review/DeskNav.tsx';
import { whenWords } from './when-words.ts';

type House = HousesBody['houses'][number];

export function HousesPage() {
  const [got, again] = useGet('/api/desk/houses', housesSchema);
  const nav = <DeskNav here={null} />;
  if (!got) return <main className="desk">{nav}<p role="status">One moment.</p></main>;
  if ('problem' in got) return <main className="desk">{nav}<h1>Houses</h1><p>{got.problem}</p><OnlyWithPassword /></main>;
  const { houses, timeZone } = got.ok;
  return (
    <main className="desk">
      {nav}
      <header>
        <h1>Houses</h1>
        <p>Studios that run their classes on a server of their own and report here. Their classes go on whether or not the line is up. The plans and movements of this desk go to all of them, and each has a timetable here.</p>
      </header>
      <ul className="houses">{houses.map((house) => <OneHouse key={house.id} house={house} timeZone={timeZone} changed={again} />)}</ul>
    </main>
  );
}

function OneHouse({ house, timeZone, changed }: { house: House; timeZone: string; changed: () => void }) {
  const { id, name, keyAt, heardAt, upTo, waiting, plansAt, conflicts, troubles } = house;
  const [key, setKey] = useState<string | null>(null);
  const [asking, setAsking] = useState(false);
  const [said, setSaid] = useState('');
  const when = (at: number) => whenWords(at, timeZone);
  const make = async () => {
    setAsking(false);
    setSaid('One moment.');
    const got = await ask(`/api/desk/houses/${id}/key`, houseKeyBodySchema, {});
    if ('ok' in got) setKey(got.ok.key);
    setSaid('ok' in got ? '' : got.problem);
  };
  return (
    <li data-well={heardAt !== null && troubles.length + conflicts === 0}>
      <h2>{name}</h2>
      <p className="heard">
        {heardAt === null ? keyAt === null ? 'It has no key yet.' : `It was not heard yet. Its key is of ${when(keyAt)}.` : <>Last heard <b>{when(heardAt)}</b>.</>}
        {upTo !== null && ` What is here goes up to ${when(upTo)}.`}
        {plansAt !== null && ` What is planned here is there since ${when(plansAt)}.`}
        {waiting > 0 && ` ${waiting === 1 ? 'One class is' : `${waiting} classes are`} on the way.`}
      </p>
      {conflicts > 0 && <p className="sentence">{conflicts === 1 ? 'One thing was changed here and there otherwise' : `${conflicts} things were changed here and there otherwise`}: it stays as it is there until somebody chooses at its desk.</p>}
      {heardAt !== null && <p><a href={`/desk/timetable?house=${id}`}>Its timetable</a></p>}
      {troubles.map((sentence) => <p key={sentence} className="sentence">{sentence}</p>)}
      <p role="status">{said}</p>
      {key === null && !asking && <button type="button" className="control" aria-label={`${keyAt === null ? 'Make its key' : 'New key'}: ${name}`} onClick={() => { if (keyAt === null) void make(); else setAsking(true); }}>{keyAt === null ? 'Make its key' : 'New key'}</button>}
      {asking && (
        <div className="sure">
          <p>With a new key the one of {when(keyAt ?? 0)} holds no longer: {name} reports nothing until its server is started with the new one. Nothing is lost meanwhile.</p>
          <button type="button" className="control" data-pressed="true" onClick={() => { void make(); }}>Make a new key</button>
          <button type="button" className="control" onClick={() => setAsking(false)}>Leave it</button>
        </div>
      )}
      {key !== null && (
        <div className="shown-key">
          <p>Shown only now. Start the server of {name} with these two:</p>
          <pre>{`HALLCLOCK_CHAIN=${window.location.origin}\nHALLCLOCK_CHAIN_KEY=${key}`}</pre>
          <button type="button" className="control" onClick={() => { setKey(null); changed(); }}>I have it</button>
        </div>
      )}
    </li>
  );
}
