/** Owns telling a database that is away from a fault of ours. */
import { DatabaseError } from 'pg';

/** Of the network and of an engine that starts, ends or has no connection left (PostgreSQL 15, appendix A: classes 08, 53 and 57). */
const CODES = /^(08|53|57)|^(ECONNREFUSED|ECONNRESET|ENOTFOUND|EAI_AGAIN|ETIMEDOUT|EPIPE|EHOSTUNREACH|ENETUNREACH)$/;
/** What the driver says without a code: nobody waited any longer, or the connection ended half way. */
const SENTENCES = /^(Query read timeout|timeout exceeded when trying to connect|Connection terminated|Client has encountered a connection error)/;

export function isAway(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  if (error instanceof AggregateError) return error.errors.some(isAway);
  if (error instanceof DatabaseError) return CODES.test(error.code ?? '');
  return CODES.test('code' in error ? String(error.code) : '') || SENTENCES.test(error.message);
}
