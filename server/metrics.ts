/**
 * Owns what may be watched from outside: numbers of the process and of the classes, as
 * Prometheus reads them (prom-client). Nothing of them names a person, a plan or a device.
 * They are made when they are asked for; nothing ticks.
 */
import type { RequestHandler } from 'express';
import { Counter, Gauge, Histogram, Registry } from 'prom-client';
import type { ServerAt } from '../shared/time/units.ts';
import { runs } from './core/room.ts';
import { isLoopback } from './door/crowd.ts';
import type { Hall } from './studio.ts';

export interface Metrics {
  /** A command was answered: stored, or refused for that reason; after so many milliseconds. */
  readonly answered: (outcome: string, ms: number) => void;
  readonly connectionsFrom: (count: () => number) => void;
  /** For this machine only: whoever watches from elsewhere asks through it. */
  readonly route: RequestHandler;
}

export function openMetrics(halls: () => Iterable<Hall>, now: () => ServerAt): Metrics {
  const registry = new Registry();
  const registers = [registry];
  let connections = () => 0;
  const gauge = (name: string, help: string, value: () => number) =>
    new Gauge({ name, help, registers, collect() { this.set(value()); } });
  gauge('process_resident_memory_bytes', 'Resident memory size in bytes.', () => process.memoryUsage.rss());
  gauge('process_cpu_seconds_total', 'Total user and system CPU time spent in seconds.', () => { const { user, system } = process.cpuUsage(); return (user + system) / 1e6; });
  gauge('process_uptime_seconds', 'Seconds since the process started.', () => process.uptime());
  gauge('hallclock_rooms', 'Rooms of this server.', () => [...halls()].length);
  gauge('hallclock_classes_running', 'Rooms in which a class runs now.', () => [...halls()].filter((h) => runs(h.core.session(), now())).length);
  gauge('hallclock_connections', 'Devices that are connected.', () => connections());
  const commands = new Counter({ name: 'hallclock_commands_total', help: 'Commands answered, by outcome: stored, or the reason of the refusal.', labelNames: ['outcome'], registers });
  const seconds = new Histogram({
    name: 'hallclock_command_seconds', help: 'From the arrival of a command to its answer, the commit included.', registers,
    buckets: [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.3, 1, 3],
  });
  return {
    answered: (outcome, ms) => {
      commands.inc({ outcome });
      seconds.observe(ms / 1_000);
    },
    connectionsFrom: (count) => { connections = count; },
    route: async (request, response) => {
      if (!isLoopback(request.socket.remoteAddress ?? '')) return void response.status(403).type('text').send('Only this machine itself may ask for these numbers.');
      response.type(registry.contentType).send(await registry.metrics());
    },
  };
}
