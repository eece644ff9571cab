/** Owns day or dim on this screen: what is set for it (set-up/own.ts), else the device; the key D changes it until the page is loaded again. */
import { useEffect } from 'react';

export function useTheme(light: 'device' | 'day' | 'dim'): void {
  useEffect(() => {
    const root = document.documentElement;
    const dark = window.matchMedia('(prefers-color-scheme: dark)');
    const follow = () => {
      root.dataset.theme = light === 'dim' || (light === 'device' && dark.matches) ? 'dim' : 'day';
    };
    const onKey = (event: KeyboardEvent) => {
      if (event.repeat || event.key.toLowerCase() !== 'd' || event.ctrlKey || event.metaKey || event.altKey) return;
      root.dataset.theme = root.dataset.theme === 'dim' ? 'day' : 'dim';
    };
    follow();
    dark.addEventListener('change', follow);
    window.addEventListener('keydown', onKey);
    return () => {
      dark.removeEventListener('change', follow);
      window.removeEventListener('keydown', onKey);
    };
  }, [light]);
}
