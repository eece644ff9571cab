/** Owns that nothing of this page asks a network: whatever it fetches is answered by the studio in the page. */
import sound from '../../media/sounds/room-0.wav?inline';
import sprite from '../../media/sounds/sprite.json';
import type { HomeStudio } from './studio.ts';

const json = (status: number, body: unknown): Response => new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } });

/** One room's sounds: at home there is one room. */
export const soundAt = (name: string): string => (name.endsWith('.wav') ? sound : name);

function bytesOf(address: string): Uint8Array<ArrayBuffer> {
  const text = atob(address.slice(address.indexOf(',') + 1));
  const bytes = new Uint8Array(text.length);
  for (let k = 0; k < text.length; k += 1) bytes[k] = text.charCodeAt(k);
  return bytes;
}

export function answerBy(studio: Pick<HomeStudio, 'answer'>): void {
  window.fetch = async (asked, init) => {
    const address = typeof asked === 'string' ? asked : asked instanceof URL ? asked.href : asked.url;
    if (address.startsWith('data:')) return new Response(bytesOf(address));
    if (address.endsWith('sprite.json')) return json(200, sprite);
    const body: unknown = typeof init?.body === 'string' ? JSON.parse(init.body) : undefined;
    const got = studio.answer(init?.method ?? 'GET', address, body);
    return json(got.status, got.body);
  };
}
