/**
 * Owns keeping the phone awake during a class. Where the browser has a lock for it (https, or this computer
 * itself) it is asked for, and again on every return. Over plain http no browser has one: there a small silent
 * film plays unseen from the first touch on, which the library nosleep.js brings and which loads only then.
 */
import { useEffect } from 'react';

function byLock(): () => void {
  let lock: WakeLockSentinel | null = null;
  let here = true;
  const take = async () => {
    if (document.visibilityState !== 'visible') return;
    try {
      const got = await navigator.wakeLock.request('screen');
      if (here) lock = got;
      else void got.release();
    } catch { /* a low battery may refuse it; the class goes on */ }
  };
  void take();
  document.addEventListener('visibilitychange', take);
  return () => {
    here = false;
    document.removeEventListener('visibilitychange', take);
    void lock?.release();
  };
}

/** What lets a film begin: a browser plays none that nobody has asked for. */
const TOUCHES = ['pointerup', 'keydown'] as const;

function byFilm(): () => void {
  let film: { readonly isEnabled: boolean; enable: () => Promise<unknown>; disable: () => void } | null = null;
  let here = true;
  void import('nosleep.js').then(({ default: NoSleep }) => { if (here) film = new NoSleep(); }).catch(() => undefined);
  const touched = () => { if (film && !film.isEnabled) film.enable().catch(() => undefined); };
  // A phone that was put away has stopped the film by itself: the next touch begins it again.
  const put = () => { if (document.visibilityState !== 'visible' && film?.isEnabled) film.disable(); };
  for (const touch of TOUCHES) window.addEventListener(touch, touched);
  document.addEventListener('visibilitychange', put);
  return () => {
    here = false;
    for (const touch of TOUCHES) window.removeEventListener(touch, touched);
    document.removeEventListener('visibilitychange', put);
    if (film?.isEnabled) film.disable();
  };
}

export function useWakeLock(wanted: boolean): void {
  useEffect(() => {
    if (!wanted) return;
    return 'wakeLock' in navigator ? byLock() : byFilm();
  }, [wanted]);
}
