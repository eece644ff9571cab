/** Owns who may say what: a phone everything, a screen what a pedal or a key can mean, a desk nothing. */
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import type { Role } from '../../shared/wire/messages/join.ts';

export function may(role: Role, command: CommandMessage['command']): boolean {
  switch (role) {
    case 'phone': return true;
    case 'screen': return command.type === 'go' || command.type === 'pause' || command.type === 'carry-on';
    case 'desk': return false;
  }
}
