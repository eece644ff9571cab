/** Owns a disk that stalls, for the bench of that name: loaded into the server, it holds up each commit in whatever thread makes it. */
import Database from 'better-sqlite3';

const stallMs = Number(process.env.BENCH_STALL_MS ?? 0);
const never = new Int32Array(new SharedArrayBuffer(4));
const { exec } = Database.prototype;
Database.prototype.exec = function stalled(sql) {
  if (sql === 'COMMIT') Atomics.wait(never, 0, 0, stallMs);
  return exec.call(this, sql);
};
