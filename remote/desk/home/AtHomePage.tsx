/** Owns the desk's page for plans at home: taking them there, and bringing them back. */
import './home.css';
import { useMemo } from 'react';
import type { Library } from '../../../shared/movement/movement.ts';
import { movementsSchema } from '../../../shared/wire/http.ts';
import { useGet } from '../../common/use-get.ts';
import { DeskNav } from '../review/DeskNav.tsx';
import { BringBack } from './BringBack.tsx';
import { TakeHome } from './TakeHome.tsx';

export function AtHomePage({ search }: { search: string }) {
  const [movements] = useGet('/api/movements', movementsSchema);
  const library: Library | null = useMemo(() => (movements && 'ok' in movements ? new Map(movements.ok.movements.map((m) => [m.id, m])) : null), [movements]);
  return (
    <main className="desk at-home-page">
      <DeskNav here={null} />
      <header><h1>Plans at home</h1><p><a href="/desk/plans">Class plans</a></p></header>
      <div className="two">
        <TakeHome first={new URLSearchParams(search).get('plan')} />
        {library && <BringBack library={library} />}
      </div>
      {movements && 'problem' in movements && <p className="sentence" role="alert">{movements.problem}</p>}
    </main>
  );
}
