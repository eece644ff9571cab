/** Owns the list of what the server says over the socket. */
import type { News, Presence } from './messages/news.ts';
import type { Snapshot } from './messages/snapshot.ts';
import type { Play } from './messages/sound.ts';

export interface ToDevice {
  snapshot: (message: Snapshot) => void;
  news: (message: News) => void;
  presence: (message: Presence) => void;
  play: (message: Play) => void;
}
