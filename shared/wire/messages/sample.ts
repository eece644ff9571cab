/** Owns the clock sample: the server's two stamps of the four-timestamp exchange (RFC 5905 section 8). */
import { z } from 'zod';

export const sampleReplySchema = z.strictObject({ receivedAt: z.number(), sentAt: z.number() });
export type SampleReply = z.infer<typeof sampleReplySchema>;
