/** Owns that the screen loads itself anew, once, when the server has become another build. */
import { useEffect, useRef } from 'react';

export function useReloadOnNewVersion(version: string | null): void {
  const first = useRef<string | null>(null);
  useEffect(() => {
    if (version === null) return;
    first.current ??= version;
    if (first.current !== version) location.reload();
  }, [version]);
}
