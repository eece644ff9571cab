/** Owns what the desk's door says over HTTP: the password, who is in, which devices are known. */
import { z } from 'zod';
import { PASSWORD_LEAST, PASSWORD_MOST } from '../limits.ts';

const password = z.string().min(PASSWORD_LEAST).max(PASSWORD_MOST);
export const comeInSchema = z.strictObject({ password });
/** The one that holds now, and the one that is to. */
export const newPasswordSchema = z.strictObject({ old: password, password });

/** `in`: may read the log and write. `withPassword`: may also let devices go. `houses`: how many are looked over here; left out where none are. */
export const deskBodySchema = z.strictObject({ in: z.boolean(), withPassword: z.boolean(), houses: z.int().min(1).optional() });
export type DeskBody = z.infer<typeof deskBodySchema>;

const known = { id: z.string(), since: z.number(), until: z.number(), mine: z.boolean() };
export const devicesSchema = z.strictObject({
  phones: z.array(z.strictObject({ ...known, rooms: z.array(z.string()) })),
  desks: z.array(z.strictObject(known)),
});
export type DevicesBody = z.infer<typeof devicesSchema>;

export const revokeSchema = z.strictObject({ kind: z.enum(['phone', 'desk']), id: z.string().min(1).max(20) });
export const doneSchema = z.strictObject({ done: z.literal(true) });
