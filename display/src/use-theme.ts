/** Owns day or dim on this screen: the address says it, else the device; the key D changes it. */
import { useEffect } from 'react';

export function useTheme(search: string): void {
  useEffect(() => {
    const root = document.documentElement;
    const dark = window.matchMedia('(prefers-color-scheme: dark)');
    const asked = new URLSearchParams(search).get('theme');
    const follow = () => {
      root.dataset.theme = asked === 'dim' || (asked !== 'day' && dark.matches) ? 'dim' : 'day';
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
  }, [search]);
}
