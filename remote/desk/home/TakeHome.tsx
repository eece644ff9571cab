/** Owns choosing the plans that are taken home, and the file they are taken in. */
import { useEffect, useState } from 'react';
import { plansSchema } from '../../../shared/wire/http.ts';
import { minutes } from '../../common/plan-words.ts';
import { useGet } from '../../common/use-get.ts';

/** How large the file will be, asked without fetching it. */
function useSize(address: string | null): string | null {
  const [size, setSize] = useState<string | null>(null);
  useEffect(() => {
    if (address === null) return;
    const stop = new AbortController();
    fetch(address, { method: 'HEAD', signal: stop.signal }).then((answer) => {
      const bytes = Number(answer.headers.get('content-length'));
      setSize(answer.ok && bytes > 0 ? `${(bytes / 1_000_000).toFixed(1)} MB` : null);
    }).catch(() => {});
    return () => stop.abort();
  }, [address]);
  return size;
}

export function TakeHome({ first }: { first: string | null }) {
  const [got] = useGet('/api/plans', plansSchema);
  const plans = got && 'ok' in got ? got.ok.plans : [];
  const [left, setLeft] = useState<ReadonlySet<string> | null>(null);
  const out = left ?? new Set(first !== null && plans.some((p) => p.id === first) ? plans.filter((p) => p.id !== first).map((p) => p.id) : []);
  const taken = plans.filter((p) => !out.has(p.id));
  const turn = (id: string) => { const next = new Set(out); if (!next.delete(id)) next.add(id); setLeft(next); };
  const address = taken.length === 0 ? null : `/api/home.html${out.size === 0 ? '' : `?plans=${taken.map((p) => p.id).join(',')}`}`;
  const size = useSize(address);
  return (
    <section className="take-home">
      <h2>Take home</h2>
      <p>One file with the editor, all movements and the plans you choose. It opens in a browser anywhere, from a stick or a mail, and needs no network. A cover teacher reads it on a phone.</p>
      {got && 'problem' in got && <p className="sentence" role="alert">{got.problem}</p>}
      <p className="plan-links"><button type="button" className="link" onClick={() => setLeft(new Set())}>All</button> <button type="button" className="link" onClick={() => setLeft(new Set(plans.map((p) => p.id)))}>None</button></p>
      <ul className="choose-plans">
        {plans.map((p) => (
          <li key={p.id}><label className="check"><input type="checkbox" checked={!out.has(p.id)} onChange={() => turn(p.id)} /> <span><b dir="auto">{p.name}</b> {minutes(p.lengthMs)}</span></label></li>
        ))}
      </ul>
      <p>{address === null ? <span className="quiet-words">Choose at least one plan.</span> : <a className="control" href={address} download>Take {taken.length === 1 ? 'one plan' : `${taken.length} plans`} home</a>} {address !== null && size && <span className="quiet-words">one file, {size}</span>}</p>
      <p className="quiet-words">Whoever has the file can read the plans and notes in it. Nothing of any class that was held is in it.</p>
    </section>
  );
}
