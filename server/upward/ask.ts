/**
 * Owns asking the chain's server over HTTP: the key, patience, and each answer read through its schema. Node's own
 * requests: the key goes to the address that was given and follows nobody elsewhere, and a certificate authority
 * of the chain's own is trusted through NODE_EXTRA_CA_CERTS.
 */
import { request as plain } from 'node:http';
import { request as secure } from 'node:https';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { z } from 'zod';
import { HOUSE_MESSAGE_MOST_BYTES } from '../../shared/limits.ts';
import { type AskHave, type AskPlans, type Have, haveSchema, type LogTaken, logTakenSchema, type PlansGiven, plansGivenSchema, type SendLog } from '../../shared/wire/house.ts';
import { problemSchema } from '../../shared/wire/http.ts';
import { noAnswer, notUnderstood, olderChain, refusedBy } from './hindered.ts';

/** What the way to the chain can do. Each rejects with Hindered. */
export interface Ask {
  readonly have: (body: AskHave) => Promise<Have>;
  readonly log: (body: SendLog) => Promise<LogTaken>;
  readonly plans: (body: AskPlans) => Promise<PlansGiven>;
}

/** A message of the usual size takes half a minute over the worst line that anybody has. */
const PATIENCE_MS = 60_000;
const WAIT_MOST_S = 600;
const PLANS = '/api/house/plans';
const pack = promisify(gzip);

interface Answered { readonly status: number; readonly waitMs: number | null; readonly text: string }

function exchange(url: string, headers: Record<string, string>, bytes: Buffer, signal: AbortSignal): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const asked = (url.startsWith('https:') ? secure : plain)(url, { method: 'POST', headers: { ...headers, 'content-length': bytes.length }, signal }, (answer) => {
      let text = '';
      answer.setEncoding('utf8');
      answer.on('data', (more: string) => {
        text += more;
        if (text.length > HOUSE_MESSAGE_MOST_BYTES) answer.destroy(new Error('an answer without end'));
      });
      answer.on('error', reject);
      answer.on('end', () => {
        const seconds = Number(answer.headers['retry-after'] ?? Number.NaN);
        resolve({ status: answer.statusCode ?? 0, waitMs: Number.isFinite(seconds) ? Math.min(WAIT_MOST_S, Math.max(0, seconds)) * 1_000 : null, text });
      });
    });
    asked.on('error', reject);
    asked.end(bytes);
  });
}

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
};

/** @param origin "https://chain.example" @param ending aborted when this server ends */
export function askOver(origin: string, key: string, ending: AbortSignal): Ask {
  async function post<T>(path: string, body: object, schema: z.ZodType<T>): Promise<T> {
    const bytes = await pack(JSON.stringify(body));
    const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/json', 'content-encoding': 'gzip' };
    const late = AbortSignal.timeout(PATIENCE_MS);
    const { status, waitMs, text } = await exchange(`${origin}${path}`, headers, bytes, AbortSignal.any([ending, late])).catch((error: unknown) => { throw noAnswer(error, origin, late.aborted); });
    if (status === 404 && path === PLANS) throw olderChain();
    if (status !== 200) throw refusedBy(status, problemSchema.safeParse(parsed(text)).data?.error ?? null, origin, waitMs);
    const read = schema.safeParse(parsed(text));
    if (!read.success) throw notUnderstood(origin);
    return read.data;
  }
  return { have: (body) => post('/api/house/have', body, haveSchema), log: (body) => post('/api/house/log', body, logTakenSchema), plans: (body) => post(PLANS, body, plansGivenSchema) };
}
