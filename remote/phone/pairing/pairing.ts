/** Owns how a phone comes to its room: the code in the address or by hand, and remembering the room. */
import { pairedSchema } from '../../../shared/wire/http.ts';
import { ask, type Got } from '../../common/get.ts';

const KEY = 'hallclock-room';

/** Takes the code out of the address, so that a reload or a shared address does not use it again. */
export function takeCode(): string | null {
  const url = new URL(window.location.href);
  const code = url.searchParams.get('code');
  if (code === null) return null;
  url.searchParams.delete('code');
  window.history.replaceState(null, '', url);
  return code;
}

/** Private windows may have no storage; then the room is known until the page is closed. */
export function rememberedRoom(): string | null {
  try { return window.localStorage.getItem(KEY); } catch { return null; }
}

export function rememberRoom(room: string | null): void {
  try {
    if (room === null) window.localStorage.removeItem(KEY);
    else window.localStorage.setItem(KEY, room);
  } catch { /* see above */ }
}

export const digitsOf = (text: string): string => text.replace(/\D/g, '').slice(0, 6);

export async function pair(code: string): Promise<Got<string>> {
  if (!/^\d{6}$/.test(code)) return { problem: 'The code has six digits. They are on the screen, under the QR code.' };
  const got = await ask('/api/pair', pairedSchema, { code });
  return 'ok' in got ? { ok: got.ok.room } : got;
}
