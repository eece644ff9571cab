/** Owns what may stand between a studio's own server and the chain's, each in a sentence that says what to do. */

/** The way to the chain is not open now; what is here stays here. */
export class Hindered extends Error {
  /** The chain asked to be left alone for so long; null where it did not say. */
  readonly waitMs: number | null;
  constructor(sentence: string, waitMs: number | null = null) {
    super(sentence);
    this.waitMs = waitMs;
  }
}

const CERTIFICATE = /CERT|UNABLE_TO_(GET|VERIFY)|SELF_SIGNED/;

/** @param late whether nobody waited any longer */
export function noAnswer(error: unknown, origin: string, late: boolean): Hindered {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (CERTIFICATE.test(code)) return new Hindered(`The certificate of ${origin} is not one that this computer trusts (${code}). Where the chain has a certificate authority of its own, start this server with NODE_EXTRA_CA_CERTS and its file.`);
  if (code === 'ENOTFOUND' || code === 'EAI_AGAIN') return new Hindered(`The name of the chain's server (${origin}) is not known here: the line is down, or HALLCLOCK_CHAIN is misspelt.`);
  if (late) return new Hindered(`The chain's server (${origin}) does not answer in time: the line is slow or down.`);
  return new Hindered(`The chain's server (${origin}) does not answer${code === '' ? '' : ` (${code})`}: the line is down, or that server is.`);
}

const LONGEST = 300;
/** @param said the sentence of the other side, where it gave one */
export function refusedBy(status: number, said: string | null, origin: string, waitMs: number | null): Hindered {
  const theirs = said === null ? '' : ` It says: ${said.slice(0, LONGEST)}`;
  switch (status) {
    case 301: case 302: case 303: case 307: case 308: return new Hindered(`${origin} sends on to another address. Give that one as HALLCLOCK_CHAIN; mostly it begins with https.`);
    case 401: case 403: return new Hindered('The chain does not know this studio\'s key. Make a new one at the chain\'s desk, under Houses, and start this server with it as HALLCLOCK_CHAIN_KEY.');
    case 404: return new Hindered(`${origin} takes no reports of studios. Is it the chain's server, and does its HALLCLOCK_HOUSES name this one?`);
    case 409: return new Hindered(said?.slice(0, LONGEST) ?? 'The chain\'s server and this one are of versions that do not understand each other.');
    case 429: return new Hindered('The chain\'s server is asked too much just now. What is here is sent in a while.', waitMs);
    case 503: return new Hindered('The chain\'s database does not answer. What is here stays here and is sent when it does.', waitMs);
    case 507: return new Hindered('The chain\'s server could not write: mostly its disk is full. What is here stays here and is sent when it can.', waitMs);
    default: return new Hindered(`The chain's server answers, but takes nothing (${status}).${theirs}`, waitMs);
  }
}

/** What answers, and is no Hallclock or of a version that answers otherwise. */
export const notUnderstood = (origin: string): Hindered => new Hindered(`${origin} answers in a way that this server does not understand: it is no Hallclock, or a much newer one. Bring this studio's server up to its version.`);
/** What takes logs and knows nothing of plans. */
export const olderChain = (): Hindered => new Hindered('The chain\'s server is of an older version, which gives no plans and no timetable. Logs go there all the same.');
