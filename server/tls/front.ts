/**
 * Owns the server's one port under TLS: those who speak TLS are let in, those who speak plain
 * HTTP are sent on to https and get nothing else. Leaves alone what is asked (http.ts).
 */
import { createServer, type IncomingMessage, type RequestListener, type ServerResponse } from 'node:http';
import { createServer as createSecure, type Server as SecureServer } from 'node:https';
import type { Socket } from 'node:net';
import { unknownName } from '../door/gate.ts';
import type { Known } from '../door/names.ts';
import type { Certificate } from './certificate.ts';

export interface FrontLimits {
  readonly headersTimeout: number;
  readonly requestTimeout: number;
}

/** The first byte of a TLS handshake (RFC 8446 section 5.1); no method of HTTP begins with it. */
const HANDSHAKE = 0x16;

/** Answers plain HTTP: the same address under https, for reading (307: a browser keeps no memory of it); a sentence for all else. */
function sendOn(known: Known) {
  return ({ headers: { host }, url, method }: IncomingMessage, response: ServerResponse): void => {
    response.setHeader('Connection', 'close');
    response.setHeader('Content-Type', 'text/plain; charset=utf-8');
    if (!known(host)) {
      response.writeHead(421).end(unknownName(host));
      return;
    }
    // An address in full would be somebody else's words in our answer.
    const secure = `https://${host}${url?.startsWith('/') ? url : '/'}`;
    if (method === 'GET' || method === 'HEAD') response.writeHead(307, { Location: secure }).end(`This studio speaks https only. Open ${secure}\n`);
    // 426: RFC 9110 section 15.5.22.
    else response.writeHead(426, { Upgrade: 'TLS/1.2, HTTP/1.1' }).end(`This studio speaks https only, and nothing was done. Open https://${host}/ and do it there.\n`);
  };
}

/** Not listening yet. */
export function secureServer({ cert, key }: Certificate, limits: FrontLimits, known: Known, app: RequestListener): SecureServer {
  const secure = createSecure({ cert, key, minVersion: 'TLSv1.2', handshakeTimeout: limits.headersTimeout, ...limits }, app);
  const plain = createServer(limits, sendOn(known));
  const toTls = secure.listeners('connection') as ((socket: Socket) => void)[];
  secure.removeAllListeners('connection');
  secure.on('connection', (socket: Socket) => {
    // Whoever says nothing, or plain HTTP, is not here for long.
    const limit = setTimeout(() => socket.destroy(), limits.headersTimeout);
    socket.once('close', () => clearTimeout(limit));
    socket.on('error', () => socket.destroy());
    socket.once('readable', () => {
      const first: Buffer | null = socket.read();
      if (first === null) return;
      socket.unshift(first);
      if (first[0] !== HANDSHAKE) {
        plain.emit('connection', socket);
        return;
      }
      clearTimeout(limit);
      for (const listener of toTls) listener.call(secure, socket);
    });
  });
  return secure;
}
