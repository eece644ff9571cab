/** Owns a command on its way from a connection to its room: parsed, weighed by role and by who leads, answered. Leaves alone what it leads to (core). */
import { refuse } from '../shared/session/refusal.ts';
import { between } from '../shared/time/units.ts';
import { type CommandReply, commandMessageSchema } from '../shared/wire/messages/command.ts';
import type { Role } from '../shared/wire/messages/join.ts';
import type { Snapshot } from '../shared/wire/messages/snapshot.ts';
import { may } from './core/may.ts';
import { ledByAnother } from './people/people.ts';
import type { Hall, Studio } from './studio.ts';

export interface Joined { readonly role: Role; readonly room: string }

/** @returns takes what a connection sent; the name is the public one of the browser, where it is a phone's */
export function openCommands(studio: Studio) {
  const { clock } = studio;
  return async (joined: Joined | null, browser: string | null, message: unknown, snapshotOf: (hall: Hall, role: Role) => Snapshot): Promise<CommandReply> => {
    const receivedAt = clock.now();
    const hall = joined && studio.hall(joined.room);
    if (!hall) return { ...refuse('not-allowed'), snapshot: null };
    const parsed = commandMessageSchema.safeParse(message);
    if (!parsed.success) return { ...refuse('bad-message'), snapshot: null };
    // Whoever may not is told so and no more: the whole class would be a thousand times what was asked.
    const { command: asked } = parsed.data;
    if (!may(joined.role, asked)) return { ...refuse('not-allowed'), snapshot: null };
    const name = joined.role === 'phone' ? browser : null;
    // What anybody may press at the screen a phone may too; for the rest it runs this class, not only the room.
    if (!may('screen', asked) && !hall.people.mayLead(name, hall.core.session(), receivedAt)) return { ...refuse('not-allowed', ledByAnother), snapshot: null };
    const answer = await hall.core.command(parsed.data, receivedAt);
    if (asked.type === 'start' && !('refused' in answer)) hall.people.started(name, hall.core.session()?.id ?? '');
    studio.metrics.answered('refused' in answer ? answer.refused.reason : 'stored', between(receivedAt, clock.now()));
    return 'refused' in answer ? { ...answer, snapshot: snapshotOf(hall, joined.role) } : answer;
  };
}
