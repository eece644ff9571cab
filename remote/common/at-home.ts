/** Owns whether this page was taken home, where there is no server, and going to another page of the desk either way. */
import { createContext } from 'react';

export const AtHome = createContext(false);

let by = (address: string): void => window.location.assign(address);
export const go = (address: string): void => by(address);
/** A page that was taken home changes what it shows instead. */
export const goBy = (way: (address: string) => void): void => { by = way; };

/** Where a plan is only read; at home. */
export const readAt = (plan: string): string => `/read/${encodeURIComponent(plan)}`;
