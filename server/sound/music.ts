/**
 * Owns the studio's own music: which files of its folder are music, told by what is in
 * them and not by what they are called. Leaves alone playing it, which the screen does.
 */
import { open, readdir, realpath, stat } from 'node:fs/promises';
import { extname, join, resolve, sep } from 'node:path';
import { FILE_NAME_MAX, MUSIC_FILES_MAX } from '../../shared/limits.ts';

export interface Track {
  readonly file: string;
  /** Without the ending; the name that a person gave it. */
  readonly title: string;
  readonly type: string;
}

export interface Music {
  /** In the order of their names. What is no music is left out, and said once. */
  readonly tracks: () => Promise<readonly Track[]>;
  /** One of those, with its place on the disk; null for every other name. */
  readonly find: (file: string) => Promise<{ readonly track: Track; readonly path: string } | null>;
  /** Whether the folder held some when last looked through; it is looked through again now and then. */
  readonly any: () => boolean;
  readonly folder: string;
}

const ENDINGS = ['.mp3', '.m4a', '.ogg', '.flac', '.wav'];
/** Enough for the marks at the beginning. */
const HEAD_BYTES = 16;
/** A folder is looked through again after this long: somebody may have put a file there. */
const FRESH_MS = 5_000;

/**
 * The type by the marks at the beginning, or null: ID3 (id3.org) or an MPEG frame of layer III
 * (ISO/IEC 11172-3), ISO base media (14496-12), Ogg (RFC 3533), FLAC (RFC 9639), RIFF/WAVE.
 */
export function musicType(head: Uint8Array): string | null {
  const text = (from: number, to: number) => String.fromCharCode(...head.subarray(from, to));
  if (text(0, 3) === 'ID3') return 'audio/mpeg';
  const [a = 0, b = 0] = head;
  if (a === 0xff && (b & 0xe0) === 0xe0 && (b & 0x06) === 0x02) return 'audio/mpeg';
  if (text(4, 8) === 'ftyp') return 'audio/mp4';
  if (text(0, 4) === 'OggS') return 'audio/ogg';
  if (text(0, 4) === 'fLaC') return 'audio/flac';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WAVE') return 'audio/wav';
  return null;
}

async function headOf(path: string): Promise<Uint8Array> {
  const file = await open(path, 'r');
  try {
    const head = new Uint8Array(HEAD_BYTES);
    const { bytesRead } = await file.read(head, 0, HEAD_BYTES, 0);
    return head.subarray(0, bytesRead);
  } finally {
    await file.close();
  }
}

/** @param nowMs a clock that does not go back, in milliseconds */
export function openMusic(data: string, warn: (sentence: string) => void, nowMs: () => number): Music {
  const folder = resolve(data, 'music');
  const said = new Set<string>();
  let found = false;
  let last: { readonly at: number; readonly tracks: Promise<readonly Track[]> } | null = null;
  const leaveOut = (file: string, why: string): null => {
    if (!said.has(file)) warn(`music: ${file} is left out: ${why}`);
    said.add(file);
    return null;
  };

  async function look(file: string, inside: string): Promise<Track | null> {
    try {
      // A link that leads out of the folder is no music of the studio's.
      const path = await realpath(join(folder, file));
      if (!path.startsWith(inside + sep) || !(await stat(path)).isFile()) return leaveOut(file, 'it is no file of this folder.');
      const type = musicType(await headOf(path));
      if (type === null) return leaveOut(file, 'it is not MP3, M4A, OGG, FLAC or WAV, whatever it is called.');
      said.delete(file);
      return { file, title: file.slice(0, -extname(file).length), type };
    } catch (error) {
      return leaveOut(file, `it cannot be read (${error instanceof Error ? error.message : String(error)}).`);
    }
  }

  async function all(): Promise<readonly Track[]> {
    const inside = await realpath(folder).catch(() => null);
    if (inside === null) return [];
    const names = (await readdir(inside)).filter((f) => !f.startsWith('.') && f.length <= FILE_NAME_MAX && ENDINGS.includes(extname(f).toLowerCase()))
      .sort((a, b) => a.localeCompare(b, 'en', { numeric: true })).slice(0, MUSIC_FILES_MAX);
    return (await Promise.all(names.map((f) => look(f, inside)))).filter((t) => t !== null);
  }

  const tracks = (): Promise<readonly Track[]> => {
    if (last === null || nowMs() - last.at > FRESH_MS) {
      const tracks = all();
      last = { at: nowMs(), tracks };
      void tracks.then((t) => { found = t.length > 0; });
    }
    return last.tracks;
  };
  void tracks();
  return {
    folder,
    any: () => {
      void tracks();
      return found;
    },
    tracks,
    // Only a name that was found in the folder is ever joined to it.
    find: async (file) => {
      const track = (await tracks()).find((t) => t.file === file);
      return track ? { track, path: join(folder, track.file) } : null;
    },
  };
}
