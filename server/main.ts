/**
 * Owns the process: settings, the studio's log on standard error, signals, and the
 * exit code. 0: asked to stop. 2: somebody has to change something first.
 * 1: start me again.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import pino from 'pino';
import { startServer } from './app.ts';
import { rootFolder } from './pages.ts';
import { readSettings } from './settings.ts';

/** After this long a clean end is no longer waited for. */
const CLOSE_MOST_MS = 5_000;

const say = (sentence: string) => process.stderr.write(`${sentence}\n`);

function versionOf(): string {
  const root = rootFolder();
  const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };
  try {
    return `${version}+${(JSON.parse(readFileSync(join(root, 'dist', 'build.json'), 'utf8')) as { build: string }).build}`;
  } catch {
    return `${version}+sources`;
  }
}

async function main(): Promise<void> {
  const settings = readSettings(process.env);
  if ('wrong' in settings) {
    for (const sentence of settings.wrong) say(sentence);
    process.exit(2);
  }
  const logger = pino({ level: settings.log }, pino.destination({ dest: 2, sync: true }));
  const log = { warn: (sentence: string) => logger.warn(sentence), info: (sentence: string) => logger.info(sentence) };
  const lost = (sentence: string) => {
    logger.fatal(sentence);
    process.exit(1);
  };
  const byName = (short: string) => {
    log.info(`found as ${short} too`);
    if (process.send) process.send({ short });
    else process.stdout.write(`${short}, the same by its short name\n`);
  };
  const running = await startServer(settings, { version: versionOf(), log, lost, byName }).catch((error: Error) => {
    say(error.message);
    process.exit(2);
  });
  let closing = false;
  const stop = () => {
    if (closing) return;
    closing = true;
    setTimeout(() => process.exit(0), CLOSE_MOST_MS).unref();
    void running.close().then(() => process.exit(0));
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);
  process.on('disconnect', stop);
  const { address: { origin: address }, certificate } = running;
  log.info(`listening on ${address}`);
  const { firstPassword } = running.studio.desk;
  const fingerprint = certificate?.own ? certificate.fingerprint : null;
  if (process.send) process.send({ listening: address, port: running.port, firstPassword, fingerprint });
  else process.stdout.write(`${address}\n${fingerprint === null ? '' : `Its own certificate, of which browsers warn once: SHA-256 ${fingerprint}\n`}${firstPassword === null ? '' : `The desk's password, shown only now: ${firstPassword}\n`}`);
}

await main();
