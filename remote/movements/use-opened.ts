/** Owns which movement is opened: its id stands behind the # of the address, so that it can be sent to somebody and gone back from. */
import { useCallback, useEffect, useState } from 'react';

const inAddress = (): string => decodeURIComponent(window.location.hash.slice(1));

export function useOpened(): readonly [string, () => void] {
  const [id, setId] = useState(inAddress);
  useEffect(() => {
    const look = () => setId(inAddress());
    window.addEventListener('hashchange', look);
    window.addEventListener('popstate', look);
    return () => {
      window.removeEventListener('hashchange', look);
      window.removeEventListener('popstate', look);
    };
  }, []);
  // An empty # would jump to the top; the address without one does not.
  const close = useCallback(() => {
    window.history.pushState(null, '', window.location.pathname);
    setId('');
  }, []);
  return [id, close];
}
