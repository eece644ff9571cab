/** Owns going about in a page that has no server: addresses of the desk stand after the #, and links to them lead there. */
import { useEffect, useState } from 'react';
import { download } from './keep.ts';
import type { HomeStudio } from './studio.ts';

export const goTo = (address: string): void => { window.location.hash = address; };

const ASK_AFTER_MS = 2_500;
const LOOK_MS = 100;
/** An editor that still has something to keep says so as it does when a window is closed; only what cannot be kept is asked about. */
function leaveFor(address: string, waitedMs = 0): void {
  const free = window.dispatchEvent(new Event('beforeunload', { cancelable: true }));
  if (!free && waitedMs < ASK_AFTER_MS) setTimeout(() => leaveFor(address, waitedMs + LOOK_MS), LOOK_MS);
  else if (free || window.confirm('What you wrote last cannot be kept yet; the page says why. Leave it unkept?')) goTo(address);
}
const here = (): string => decodeURI(window.location.hash.slice(1)) || '/desk/plans';

export function useWay(): URL {
  const [address, set] = useState(here);
  useEffect(() => {
    const follow = () => { set(here()); window.scrollTo(0, 0); };
    window.addEventListener('hashchange', follow);
    return () => window.removeEventListener('hashchange', follow);
  }, []);
  return new URL(address, 'http://home');
}

/** A plan's file comes out of the page; all else is shown in it. */
export function followLinks(studio: Pick<HomeStudio, 'plan'>): void {
  document.addEventListener('click', (event) => {
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    const address = link?.getAttribute('href') ?? '';
    if (!address.startsWith('/')) return;
    event.preventDefault();
    const id = /^\/api\/plans\/([^/]+)\/file$/.exec(address)?.[1];
    const plan = id === undefined ? null : studio.plan(id);
    if (plan) download(`${plan.id}.json`, 'application/json', `${JSON.stringify(plan, null, 2)}\n`);
    else leaveFor(address);
  }, true);
}
