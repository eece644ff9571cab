/** Owns what a message means in a room: the plan, the facts and the estimates that a command needs are looked up, or it is said why not. */
import type { Command } from '../../shared/session/command.ts';
import { type Refusal, refuse } from '../../shared/session/refusal.ts';
import { type Session, settingsSchema } from '../../shared/session/session.ts';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import type { RoomNeeds } from './room.ts';

export async function meant(needs: RoomNeeds, message: CommandMessage, session: Session | null): Promise<Command | { readonly refused: Refusal }> {
  const { command } = message;
  if (command.type !== 'start') {
    // Stop is about the room, whatever class its sender saw.
    if (command.type !== 'stop' && message.session !== (session?.id ?? null)) return refuse(session ? 'too-late' : 'no-class');
    if (command.type !== 'change') return command;
    const facts = await needs.movement(command.to);
    return facts ? { ...command, facts } : refuse('unknown-movement');
  }
  const found = await needs.plan(command.plan);
  if (!found) return refuse('unknown-plan');
  if ('broken' in found) return refuse('bad-plan', `This plan cannot run: ${found.broken}`.slice(0, 400));
  const { plan, facts } = found;
  const { freeAt, instructor } = command;
  const estimates = (await needs.estimates?.(plan, instructor ?? null)) ?? {};
  return {
    type: 'start', session: needs.newId(), room: needs.id, plan, facts, settings: settingsSchema.parse({}), freeAt, estimates,
    ...(instructor === undefined ? {} : { instructor }),
  };
}
