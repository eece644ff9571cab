/**
 * Owns who may say what: a phone everything; a screen what its keys can mean, starting a class and
 * stopping the room among it; a desk nothing.
 */
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import type { Role } from '../../shared/wire/messages/join.ts';

/** What can be done with the keys beside a screen: a whole class, without a phone. */
const atTheScreen: ReadonlySet<CommandMessage['command']['type']> = new Set([
  'start', 'go', 'pause', 'carry-on', 'keep-moving', 'stop', 'answer-stop', 'stamp-stop', 'to-paused',
]);

export function may(role: Role, command: CommandMessage['command']): boolean {
  switch (role) {
    case 'phone': return true;
    case 'screen': return atTheScreen.has(command.type);
    case 'desk': return false;
  }
}
