/** Owns the list of phones and browsers that may do something here, letting one go, and a new password. */
import { useState } from 'react';
import { z } from 'zod';
import { deskBodySchema, devicesSchema, type DevicesBody } from '../../../shared/wire/desk.ts';
import { ask } from '../../common/get.ts';
import { useGet } from '../../common/use-get.ts';
import { DeskNav } from '../review/DeskNav.tsx';
import { OnlyWithPassword } from './OnlyWithPassword.tsx';

const doneSchema = z.strictObject({ done: z.literal(true) });
const day = (at: number): string => new Date(at).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });

type Device = { readonly kind: 'phone' | 'desk' } & (DevicesBody['phones'][number] | DevicesBody['desks'][number]);

export function DevicesPage() {
  const [got, again] = useGet('/api/desk/devices', devicesSchema);
  const [said, setSaid] = useState('');
  if (!got) return <main className="desk"><p role="status">One moment.</p></main>;
  const back = <DeskNav here="/desk?devices" />;
  if ('problem' in got) return <main className="desk">{back}<p>{got.problem}</p><OnlyWithPassword /></main>;
  const letGo = async ({ kind, id }: Device) => {
    const done = await ask('/api/desk/revoke', doneSchema, { kind, id });
    setSaid('ok' in done ? 'It was let go.' : done.problem);
    again();
  };
  const row = (d: Device) => (
    <li key={`${d.kind}${d.id}`}>
      <span>
        <b>{d.kind === 'phone' ? `Phone ${d.id}` : `Browser ${d.id}`}</b>{d.mine ? ' (this one)' : ''}
        {'rooms' in d ? `, ${d.rooms.join(', ')}` : ''}
      </span>
      <span className="how">since {day(d.since)}, until {day(d.until)}</span>
      <button type="button" className="control" onClick={() => { void letGo(d); }} aria-label={`Let ${d.kind === 'phone' ? 'phone' : 'browser'} ${d.id} go`}>Let go</button>
    </li>
  );
  const { phones, desks } = got.ok;
  return (
    <main className="desk">
      {back}
      <h1>Devices</h1>
      <p role="status">{said}</p>
      <section>
        <h2>Phones that may run a class</h2>
        <p>A phone that is lost is let go here: it is cut off at once, and has to read the code on the screen again.</p>
        {phones.length === 0 ? <p>None is paired.</p> : <ul className="devices">{phones.map((p) => row({ kind: 'phone', ...p }))}</ul>}
      </section>
      <section>
        <h2>Browsers that are in at the desk</h2>
        <ul className="devices">{desks.map((d) => row({ kind: 'desk', ...d }))}</ul>
      </section>
      <NewPassword />
    </main>
  );
}

function NewPassword() {
  const [said, setSaid] = useState('');
  const send = async (form: HTMLFormElement) => {
    const fields = new FormData(form);
    const field = (name: string) => String(fields.get(name) ?? '');
    setSaid('One moment.');
    const done = await ask('/api/desk/password', deskBodySchema, { old: field('old'), password: field('new') }, 'PUT');
    if ('ok' in done) window.location.assign('/desk');
    else setSaid(done.problem);
  };
  return (
    <section>
      <h2>Another password</h2>
      <p>All browsers are out with the old one and have to give the new one. Paired phones stay.</p>
      <form className="by-password" onSubmit={(event) => { event.preventDefault(); void send(event.currentTarget); }}>
        <label htmlFor="old">The password as it is now</label>
        <input id="old" name="old" type="password" autoComplete="current-password" minLength={8} maxLength={128} required />
        <label htmlFor="new">New password, 8 letters or more</label>
        <input id="new" name="new" type="password" autoComplete="new-password" minLength={8} maxLength={128} required />
        <p role="status">{said}</p>
        <button type="submit" className="control" data-pressed="true">Keep it</button>
      </form>
    </section>
  );
}
