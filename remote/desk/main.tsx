/** Owns starting the desk's page: one class of the log, all rooms now, the review, or all houses if the address says so, else the list and the plans. */
import '../../shared/ui/older/fill.ts';
import { lazy, StrictMode, Suspense } from 'react';
import { createRoot } from 'react-dom/client';
import '../common/base.css';
import './desk.css';
import './door/door.css';
import './houses/houses.css';
import './review/review.css';
import './all/all.css';
import { Calls } from './Calls.tsx';
import { ClassPage } from './ClassPage.tsx';
import { AtTheDesk } from './door/AtTheDesk.tsx';
import { DevicesPage } from './door/DevicesPage.tsx';
import { Home } from './Home.tsx';
import { AllNowPage } from './all/AllNowPage.tsx';
import { HousesPage } from './houses/HousesPage.tsx';
import { NowPage } from './review/NowPage.tsx';
import { ReviewPage } from './review/ReviewPage.tsx';

const root = document.getElementById('root');
const { pathname, search, hash } = window.location;
/** Planning loads apart: whoever reads the log does not wait for it. */
const Planning = lazy(() => import('./plan/Planning.tsx'));
/** The coach's rules come with planning's words, not with the log. */
const RulesPage = lazy(() => import('./plan/RulesPage.tsx'));
/** What the chain changed is shown with planning's words. */
const FromChain = lazy(() => import('./houses/FromChain.tsx'));
const asked = new URLSearchParams(search);
const id = asked.get('class');

function Page() {
  if (/^\/desk\/(plans|timetable|home)\b/.test(pathname)) return <Planning path={pathname} search={search} />;
  if (pathname === '/desk/rules') return <RulesPage named={hash.slice(1)} />;
  if (pathname === '/desk/chain') return <FromChain />;
  return <AtTheDesk><Inside /></AtTheDesk>;
}

/** What was done here, and who may do what: for those who teach here. */
function Inside() {
  if (pathname === '/desk/all') return asked.has('review') ? <ReviewPage search={search} of="all" /> : <AllNowPage />;
  if (id !== null) return <ClassPage id={id} />;
  if (asked.has('review')) return <ReviewPage search={search} of="studio" />;
  if (pathname === '/desk/houses') return <HousesPage />;
  if (asked.has('devices')) return <DevicesPage />;
  if (asked.has('now')) return <NowPage />;
  return <Home />;
}
if (root) createRoot(root).render(<StrictMode><Calls /><Suspense fallback={<main className="desk"><p className="quiet-words">One moment.</p></main>}><Page /></Suspense></StrictMode>);
