/** Owns a screen whose network was away: real sockets through a wire that swallows everything while it is cut. */
import { createServer, type Socket, connect } from 'node:net';
import { afterEach, expect, it } from 'vitest';
import { type Device, device, live, newFolder, serve, sessionOf, pair } from './serve.ts';

/** The wire swallows what is begun while it is cut for good, as a lost packet does for longer than a second. */
async function wireTo(port: number) {
  let cut = false;
  const open = new Set<Socket>();
  const server = createServer((near) => {
    open.add(near);
    near.on('error', () => {});
    if (cut) {
      near.resume();
      return;
    }
    const far = connect(port, '127.0.0.1');
    open.add(far);
    far.on('error', () => {});
    near.pipe(far).pipe(near);
  });
  await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', resolve); });
  const address = server.address();
  const drop = () => { for (const socket of open) socket.destroy(); open.clear(); };
  return {
    url: `http://127.0.0.1:${typeof address === 'object' && address ? address.port : 0}`,
    cut: () => { cut = true; drop(); },
    mend: () => { cut = false; },
    close: () => { drop(); server.close(); },
  };
}

const CUTS = 16;
const closing: (() => unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });
const pause = (ms: number) => new Promise<void>((resolve) => { setTimeout(resolve, ms); });

it('W8 a screen that was off the network, however long, is right within a second of its coming back', async () => {
  const server = await serve(newFolder());
  closing.push(() => server.close());
  const near = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, near));
  closing.push(near.close, phone.close);
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  const back = await Promise.all(Array.from({ length: CUTS }, async (_, k) => {
    const wire = await wireTo(server.port);
    closing.push(wire.close);
    const screen: Device = device(wire.url, 'screen');
    closing.push(screen.close);
    await screen.until((r) => live(r) && r.session !== null, 'the screen');
    wire.cut();
    await screen.until((r) => r.link.state === 'lost', 'the loss');
    // Every phase of the tries, the patient ones too, is met by one of these.
    await pause(2_500 + k * 500);
    if (k === 0) await phone.room().send({ type: 'note', text: 'said meanwhile' });
    wire.mend();
    const from = performance.now();
    await screen.until((r) => live(r), 'the screen again');
    const tookMs = performance.now() - from;
    expect(sessionOf(screen).notes.map((n) => n.text)).toEqual(['said meanwhile']);
    expect(Math.abs((screen.room().now() ?? 0) - server.studio.clock.exact())).toBeLessThan(20);
    return tookMs;
  }));
  expect(Math.max(...back)).toBeLessThan(1_000);
});
