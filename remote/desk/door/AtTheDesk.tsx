/** Owns the door of the desk: who gave the password, or came with a paired phone, sees the page; everybody else is asked for it. */
import { type ReactNode, useState } from 'react';
import { deskBodySchema } from '../../../shared/wire/desk.ts';
import { ask } from '../../common/get.ts';
import { useGet } from '../../common/use-get.ts';

export function AtTheDesk({ children }: { readonly children: ReactNode }) {
  const [got, again] = useGet('/api/desk', deskBodySchema);
  const [said, setSaid] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  if (!got) return <main className="desk"><p role="status">One moment.</p></main>;
  if ('problem' in got) {
    return <main className="desk at-door"><p>{got.problem}</p><button type="button" className="control" onClick={again}>Try again</button></main>;
  }
  if (got.ok.in) return children;
  const send = async (form: HTMLFormElement) => {
    const password = String(new FormData(form).get('password') ?? '');
    setBusy(true);
    const came = await ask('/api/desk/in', deskBodySchema, { password });
    setBusy(false);
    if ('ok' in came) again();
    else setSaid(came.problem);
  };
  return (
    <main className="desk at-door">
      <h1>The desk</h1>
      <p>Plans, logs and settings of this studio.</p>
      <form className="by-password" onSubmit={(event) => { event.preventDefault(); void send(event.currentTarget); }}>
        <label htmlFor="password">Password of the desk</label>
        <input id="password" name="password" type="password" autoComplete="current-password" required aria-describedby="door-said" />
        <p id="door-said" className={said && !busy ? 'sentence' : 'quiet-words'} role="status">{busy ? 'One moment.' : said ?? ''}</p>
        <button type="submit" className="control" data-pressed="true" disabled={busy}>Come in</button>
      </form>
      <details>
        <summary>I do not have it</summary>
        <p>It was shown once, where the server was first started. Whoever can reach that computer makes a new one with <code>npm run password</code>.</p>
        <p>A phone that teaches here comes in without it: <a href="/phone">pair this browser at a screen</a>.</p>
      </details>
    </main>
  );
}
