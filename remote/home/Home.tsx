/** Owns what the page that was taken home shows: a line about itself, and under it the plans, the editor, the reading or the rehearsal. */
import { useEffect, useMemo, useSyncExternalStore } from 'react';
import { RehearsalPage } from '../../display/src/rehearse/RehearsalPage.tsx';
import { addressInFile, PictureAddress } from '../../shared/ui/figure/picture-address.ts';
import { AtHome } from '../common/at-home.ts';
import Planning from '../desk/plan/Planning.tsx';
import { AboutFile } from './AboutFile.tsx';
import type { HomeOpen } from './open.ts';
import { ReadPage } from './ReadPage.tsx';
import { goTo, useWay } from './way.ts';

export function Home({ home }: { home: HomeOpen }) {
  const way = useWay();
  const standing = useSyncExternalStore(home.subscribe, home.standing);
  const address = useMemo(() => addressInFile(home.file.pictures), [home]);
  const leaving = standing.unsaved > 0 && !standing.kept;
  useEffect(() => {
    if (!leaving) return;
    // Going about inside the page loses nothing; closing it would.
    const stay = (event: BeforeUnloadEvent) => { if (event.isTrusted) event.preventDefault(); };
    window.addEventListener('beforeunload', stay);
    return () => window.removeEventListener('beforeunload', stay);
  }, [leaving]);
  const rehearsed = way.pathname === '/screen' ? way.searchParams.get('rehearse') : null;
  const read = /^\/read\/([a-z0-9-]+)$/.exec(way.pathname)?.[1];
  return (
    <AtHome value={true}>
      <PictureAddress value={address}>
        {rehearsed !== null ? <Rehearse plan={rehearsed} search={way.search} /> : (
          <>
            <AboutFile home={home} standing={standing} />
            {read ? <ReadPage key={read} plan={home.studio.plan(read)} cover={home.file.plans.find((p) => p.now.id === read)?.cover ?? ''} library={home.studio.library} /> : <Planning key={way.href} path={way.pathname} search={way.search} />}
          </>
        )}
      </PictureAddress>
    </AtHome>
  );
}

/** The screen's own rehearsal; the whole window is the wall meanwhile. */
function Rehearse({ plan, search }: { plan: string; search: string }) {
  useEffect(() => {
    const page = document.documentElement;
    page.removeAttribute('data-home');
    return () => {
      page.setAttribute('data-home', '');
      delete page.dataset.theme;
    };
  }, []);
  return (
    <>
      <div id="wall"><RehearsalPage planId={plan} search={search} /></div>
      <button type="button" className="leave-rehearsal" onClick={() => goTo(`/read/${plan}`)}>Leave</button>
    </>
  );
}
