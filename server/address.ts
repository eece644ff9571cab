/** Owns the address by which other devices in the studio's network reach this server. */
import { networkInterfaces } from 'node:os';

/** Addresses that home and studio routers give out come first. */
const likely = (address: string): number =>
  address.startsWith('192.168.') ? 0 : address.startsWith('10.') ? 1 : /^172\.(1[6-9]|2\d|3[01])\./.test(address) ? 2 : 3;

/** "192.168.1.20:8080"; this machine's own name for itself where it has no network. */
export function addressOf(port: number): string {
  const addresses = Object.values(networkInterfaces()).flatMap((list) => list ?? [])
    .filter((a) => a.family === 'IPv4' && !a.internal && !a.address.startsWith('169.254.'))
    .map((a) => a.address)
    .sort((a, b) => likely(a) - likely(b));
  const host = addresses[0] ?? 'localhost';
  return port === 80 ? host : `${host}:${port}`;
}
