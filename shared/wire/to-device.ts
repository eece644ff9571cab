/** Owns the list of what the server says over the socket. */
import type { News, Presence } from './messages/news.ts';
import type { Snapshot } from './messages/snapshot.ts';

export interface ToDevice {
  snapshot: (message: Snapshot) => void;
  news: (message: News) => void;
  presence: (message: Presence) => void;
}
