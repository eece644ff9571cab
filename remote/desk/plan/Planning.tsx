/** Owns which page of planning an address names: the plans, one to write, one typed as on paper, the next session, the timetable, plans at home. */
import '../../movements/movements.css';
import './plan.css';
import './print.css';
import { AtHomePage } from '../home/AtHomePage.tsx';
import { EditPage } from './EditPage.tsx';
import { NextPage } from './NextPage.tsx';
import { PlansPage } from './PlansPage.tsx';
import { TimetablePage } from './TimetablePage.tsx';
import { TypedPage } from './TypedPage.tsx';

/** Addresses below /desk that are planning's. */
export default function Planning({ path, search }: { path: string; search: string }) {
  if (path === '/desk/timetable') return <TimetablePage house={new URLSearchParams(search).get('house')} />;
  if (path === '/desk/home') return <AtHomePage search={search} />;
  const [, id, next] = /^\/desk\/plans\/([a-z0-9-]+)(\/next)?\/?$/.exec(path) ?? [];
  if (id) return next ? <NextPage id={id} /> : <EditPage id={id} />;
  const typed = new URLSearchParams(search).get('typed');
  return typed === null ? <PlansPage /> : <TypedPage name={typed} />;
}
