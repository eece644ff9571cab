/**
 * Owns a log as it may be told to others: a stop is a pause in it, without its answers
 * and stamps. The class runs through it exactly as it did. For statistics, exports,
 * learned estimates and everybody but the owner and who taught.
 */
import type { Event } from './command.ts';

export function withoutStops(events: readonly Event[]): Event[] {
  /** What the told class stands for; a stop goes on with the pause that is there. */
  let standing: 'runs' | 'paused' | 'moving' = 'runs';
  return events.flatMap((event): Event[] => {
    switch (event.type) {
      case 'stop-answered':
      case 'stop-stamped':
      case 'came-back': return [];
      case 'stopped': {
        const before = standing;
        standing = 'paused';
        return before === 'paused' ? [] : [{ type: 'paused', at: event.at, reason: null }];
      }
      case 'paused': standing = 'paused'; return [event];
      case 'kept-moving': standing = 'moving'; return [event];
      case 'carried-on': standing = 'runs'; return [event];
      default: return [event];
    }
  });
}

export const hasStop = (events: readonly Event[]): boolean => events.some((e) => e.type === 'stopped');
