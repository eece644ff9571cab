/** Owns hostile HTTP requests: every address we have and its neighbours, bodies right, nearly right and broken, headers that lie. */
import { Agent, request } from 'node:http';
import { pairSchema } from '../../shared/wire/http.ts';
import { anything, type Chance } from './chance.ts';
import { jsonOf, nearlyRight, rightOne } from './from-schema.ts';

const methods = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE', 'HEAD', 'OPTIONS', 'TRACE', 'PROPFIND'];
const parts = [
  'api', 'health', 'pair', 'plans', 'movements', 'classes', 'emergency', 'cover', 'shows', 'pictures', 'media', 'desk', 'phone', 'screen', 'timetable', 'review', 'music',
  'forty-twenty', 'squat', '..', '%2e%2e', '%00', '%', '%ff', 'a'.repeat(400), '__proto__', 'constructor', 'package.json', 'hallclock.db', '.data', '.git', '🧘', '0', '-1', 'NaN',
];
const queries = ['', '?limit=1e9', '?limit=-1', '?before=NaN', '?before=1e308', '?limit[]=1', '?limit[__proto__]=1', `?q=${'x'.repeat(3_000)}`, '?%', '?instructor=%00', '?from=2026-99-99&to='];
const types = ['application/json', 'text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', 'application/json; charset=utf-7', 'image/png', ''];
const pair = jsonOf(pairSchema);

export interface Answered { readonly asked: number; readonly byStatus: Record<string, number>; readonly leaks: string[] }

/** A stack trace, a path of the machine, the name of a module: nothing of these belongs on the wire. */
const LEAK = /node_modules|\bat .+\(.+:\d+:\d+\)|\.ts:\d+|SqliteError|ZodError|file:\/\/\//;

function one(url: string, agent: Agent, chance: Chance): Promise<{ status: number; text: string; path: string }> {
  const path = `/${Array.from({ length: chance.below(5) }, () => chance.one(parts)).join('/')}${chance.one(queries)}`.replace(/[^\x21-\xff]+/g, encodeURIComponent);
  const body = chance.happens(0.5) ? '' : chance.happens(0.4) ? JSON.stringify(nearlyRight(rightOne(pair, chance), chance))
    : chance.happens(0.5) ? JSON.stringify(anything(chance)) ?? '' : Buffer.from(Array.from({ length: chance.below(80) }, () => chance.below(256)));
  const headers: Record<string, string> = { 'content-type': chance.one(types) };
  if (chance.happens(0.1)) headers.origin = chance.one(['http://elsewhere.example', 'null', url]);
  if (chance.happens(0.1)) headers.host = chance.one(['elsewhere.example', 'localhost', '', 'a,b']);
  if (chance.happens(0.2)) headers.cookie = `hallclock=${chance.one(['x', 'x'.repeat(22), '../../x', '"', `${'x'.repeat(2_000)}`])}`;
  if (chance.happens(0.1)) headers.range = chance.one(['bytes=0-', 'bytes=-1', 'bytes=9-1', `bytes=${'0-,'.repeat(200)}`]);
  return new Promise((resolve) => {
    const asked = request(url, { path, method: chance.one(methods), headers, agent, timeout: 5_000 }, (answer) => {
      let text = '';
      answer.setEncoding('latin1');
      answer.on('data', (piece: string) => { if (text.length < 20_000) text += piece; });
      answer.on('end', () => resolve({ status: answer.statusCode ?? 0, text: /javascript|html/.test(String(answer.headers['content-type'])) ? '' : text, path }));
      answer.on('error', () => resolve({ status: 0, text: '', path }));
    });
    asked.on('timeout', () => { asked.destroy(); });
    asked.on('error', () => resolve({ status: 0, text: '', path }));
    asked.end(body);
  });
}

/** @param count requests, sixteen at once */
export async function fuzzRequests(url: string, chance: Chance, count: number): Promise<Answered> {
  const agent = new Agent({ keepAlive: true, maxSockets: 16 });
  const byStatus: Record<string, number> = {};
  const leaks: string[] = [];
  let asked = 0;
  const line = async () => {
    while (asked < count) {
      asked += 1;
      const { status, text, path } = await one(url, agent, chance);
      byStatus[status] = (byStatus[status] ?? 0) + 1;
      if (status === 500 || LEAK.test(text)) leaks.push(`${status} ${path.slice(0, 100)} ${text.slice(0, 200)}`);
    }
  };
  await Promise.all(Array.from({ length: 16 }, line));
  agent.destroy();
  return { asked, byStatus, leaks };
}
