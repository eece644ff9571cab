/** Owns keeping the phone awake during a class, where the browser can; it is asked again on every return. */
import { useEffect } from 'react';

export function useWakeLock(wanted: boolean): void {
  useEffect(() => {
    if (!wanted || !('wakeLock' in navigator)) return;
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
  }, [wanted]);
}
