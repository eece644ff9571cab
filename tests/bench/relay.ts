/** Owns what we are measured against: a bare Socket.IO server that passes a message on to its room, also through Redis, and a page for it. */
import { createServer } from 'node:http';
import { join } from 'node:path';
import { createAdapter } from '@socket.io/redis-streams-adapter';
import Database from 'better-sqlite3';
import { createClient } from 'redis';
import { Server } from 'socket.io';

const page = `<!doctype html><body><button>tap</button><p>0</p><script src="/socket.io/socket.io.js"></script><script>
const socket = io({ transports: ['websocket'] });
document.querySelector('button').onclick = () => socket.emit('command', { n: 1 }, () => {});
socket.on('connect', () => socket.emit('join', 'r', () => {}));
let n = 0; socket.on('news', () => { n += 10; document.querySelector('p').textContent = n; });
</script></body>`;
const http = createServer((request, response) => {
  if (request.url === '/') response.setHeader('content-type', 'text/html').end(page);
});
let adapter: ReturnType<typeof createAdapter> | null = null;
if (process.env.RELAY_REDIS) {
  const client = createClient({ url: process.env.RELAY_REDIS });
  await client.connect();
  adapter = createAdapter(client, { onlyPlaintext: true });
}
const io = new Server(http, { serveClient: true, ...(adapter ? { adapter: adapter as never } : {}) });
let insert: Database.Statement | null = null;
if (process.env.RELAY_COMMIT) {
  const db = new Database(join(process.env.HALLCLOCK_DATA ?? '.', 'relay.sqlite'));
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec('create table events (seq integer primary key, body text)');
  insert = db.prepare('insert into events (body) values (?)');
}
io.on('connection', (socket) => {
  let room = 'r';
  socket.on('join', (name: string, answer: () => void) => {
    room = name;
    void socket.join(name);
    answer();
  });
  socket.on('command', (body: unknown, answer: () => void) => {
    insert?.run(JSON.stringify(body));
    io.to(room).emit('news', body);
    answer();
  });
});
http.listen(0, '127.0.0.1', () => {
  const address = http.address();
  process.send?.({ port: address && typeof address === 'object' ? address.port : 0 });
});
for (const end of ['SIGTERM', 'disconnect'] as const) process.on(end, () => process.exit(0));
