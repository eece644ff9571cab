/**
 * Owns watching a process from its start for everything that leaves it: connections, names
 * that are looked up, datagrams, programs that are started. Loaded before the program and in its
 * threads; each is one line of the file that WATCHED names.
 */
import childProcess from 'node:child_process';
import dgram from 'node:dgram';
import dns from 'node:dns';
import { appendFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import net from 'node:net';

const tell = (what) => appendFileSync(process.env.WATCHED, `${what}\n`);
/** What a program calls stays as it is; it is only told of. */
function watch(home, name, words) {
  const real = home[name];
  home[name] = function (...args) {
    const said = words(args);
    if (said !== null) tell(`${name} ${said}`);
    return real.apply(this, args);
  };
}

watch(net.Socket.prototype, 'connect', ([to]) => {
  const { host, port, path } = (Array.isArray(to) ? to[0] : typeof to === 'object' ? to : { port: to }) ?? {};
  return path ?? `${host ?? 'localhost'}:${port}`;
});
// An address is looked up without asking anybody.
const named = ([name]) => (net.isIP(String(name)) === 0 ? String(name) : null);
for (const home of [dns, dns.promises, dns.Resolver.prototype, dns.promises.Resolver.prototype]) {
  for (const name of Object.getOwnPropertyNames(home)) if (/^(lookup$|resolve|reverse$)/.test(name)) watch(home, name, named);
}
for (const name of ['send', 'connect', 'addMembership']) watch(dgram.Socket.prototype, name, (args) => `datagram ${args.filter((a) => typeof a !== 'function').join(' ').slice(0, 80)}`);
for (const name of ['spawn', 'spawnSync', 'exec', 'execSync', 'execFile', 'execFileSync', 'fork']) watch(childProcess, name, ([program]) => String(program));
syncBuiltinESMExports();
