/** Owns the clock sample: the server's two stamps of the four-timestamp exchange (RFC 5905 section 8). */
import { z } from 'zod';

/** Which of its clocks a server tells: another name after a start in another time (shared/time/offset.ts, ofClock). */
export const clockNameSchema = z.string().max(60);
export const sampleReplySchema = z.strictObject({ receivedAt: z.number(), sentAt: z.number(), clock: clockNameSchema });
export type SampleReply = z.infer<typeof sampleReplySchema>;
