/**
 * Owns looking into clips: MP4 (ISO/IEC 14496-12) and WebM (Matroska, RFC 9559, over
 * EBML, RFC 8794). Each must hold together, have a picture in a coding that browsers
 * show, and be short. A clip that does not say its length is bounded by its bytes.
 */
import { CLIP_MOST_MS } from '../../shared/limits.ts';
import { broken, type Looked, number, text } from './bytes.ts';

interface Part { readonly name: string; readonly start: number; readonly end: number }

const tooLong = (ms: number): Looked | null => (ms <= CLIP_MOST_MS ? null
  : { refused: `This clip lasts ${Math.round(ms / 1_000)} seconds; ${CLIP_MOST_MS / 1_000} is the most. Cut it to one or two repetitions and choose it again.` });
const noPicture: Looked = { refused: 'There is no picture in this clip. Choose another.' };
const coding = (name: string): Looked =>
  ({ refused: `This clip is coded as "${name.trim()}", which not every screen can show. Save it as H.264, VP8, VP9 or AV1 (phones call it "most compatible") and choose it again.` });

/** The boxes in a stretch of an MP4; null where they do not fill it exactly. */
function boxes(b: Buffer, start: number, end: number): Part[] | null {
  const found: Part[] = [];
  for (let at = start; at < end;) {
    const short = number(b, at, 4);
    const head = short === 1 ? 16 : 8;
    const size = short === 1 ? number(b, at + 8, 8) : short === 0 ? end - at : short;
    if (!(size >= head && at + size <= end)) return null;
    found.push({ name: text(b, at + 4, 4), start: at + head, end: at + size });
    at += size;
  }
  return found;
}
const inside = (b: Buffer, part: Part | undefined, ...path: readonly string[]): Part | undefined =>
  path.reduce<Part | undefined>((p, name) => p && boxes(b, p.start, p.end)?.find((x) => x.name === name), part);

const MP4_CODINGS = ['avc1', 'avc3', 'vp08', 'vp09', 'av01'];

export function lookAtMp4(b: Buffer): Looked {
  const brand = text(b, 8, 4);
  if (/^(heic|heix|mif1|msf1|hevc|avif|avis)$/.test(brand)) {
    return { refused: 'This is a picture that not every screen can show. Save it as a JPEG (phones call it "most compatible") and choose it again.' };
  }
  if (brand === 'qt  ') return { refused: 'This is a QuickTime clip, which not every screen can show. Save it as an MP4 and choose it again.' };
  const all = boxes(b, 0, b.length);
  const moov = all?.find((p) => p.name === 'moov');
  if (!all || !moov || !all.some((p) => p.name === 'mdat')) return broken('MP4');
  const tracks = (boxes(b, moov.start, moov.end) ?? []).filter((p) => p.name === 'trak');
  const shown = tracks.find((t) => {
    const handler = inside(b, t, 'mdia', 'hdlr');
    return handler && text(b, handler.start + 8, 4) === 'vide';
  });
  if (!shown) return noPicture;
  const table = inside(b, shown, 'mdia', 'minf', 'stbl', 'stsd');
  if (!table) return broken('MP4');
  const name = text(b, table.start + 12, 4);
  if (!MP4_CODINGS.includes(name)) return coding(name);
  const head = inside(b, moov, 'mvhd');
  if (!head) return broken('MP4');
  const long = b[head.start] === 1;
  const scale = number(b, head.start + (long ? 20 : 12), 4);
  const length = number(b, head.start + (long ? 24 : 16), long ? 8 : 4);
  if (!(scale > 0 && length >= 0)) return broken('MP4');
  // All ones, as well as none, stands for a length that was not known when the file was begun.
  const said = length >= (long ? 2 ** 64 : 2 ** 32) - 1 ? 0 : length;
  return tooLong((said / scale) * 1_000) ?? { type: 'mp4' };
}

const EBML = { docType: '4282', segment: '18538067', info: '1549a966', scale: '2ad7b1', duration: '4489', tracks: '1654ae6b', entry: 'ae', type: '83', codec: '86', cluster: '1f43b675' };
const WEBM_CODINGS = ['V_VP8', 'V_VP9', 'V_AV1'];

/** A whole number in as many bytes as its first one says; with its mark or without. */
function varying(b: Buffer, at: number, marked: boolean): { value: number; bytes: number; unknown: boolean } | null {
  const first = b[at] ?? 0;
  const bytes = Math.clz32(first) - 23;
  if (first === 0 || bytes > 8 || at + bytes > b.length) return null;
  // Without the mark it stays in what a number can hold, and a size beyond that lies beyond the file.
  const own = marked ? first : first & (0xff >> bytes);
  const rest = bytes > 1 ? number(b, at + 1, bytes - 1) : 0;
  const unknown = own === 0xff >> bytes && rest === 2 ** (8 * (bytes - 1)) - 1;
  return { value: own * 2 ** (8 * (bytes - 1)) + rest, bytes, unknown };
}

/** The elements in a stretch of a WebM. One of unknown size goes to the end: recorders write those. */
function elements(b: Buffer, start: number, end: number): Part[] | null {
  const found: Part[] = [];
  for (let at = start; at < end;) {
    const id = varying(b, at, true);
    const size = id && varying(b, at + id.bytes, false);
    if (!id || !size) return null;
    const body = at + id.bytes + size.bytes;
    const stop = size.unknown ? end : body + size.value;
    if (stop > end) return null;
    found.push({ name: b.toString('hex', at, at + id.bytes), start: body, end: stop });
    at = stop;
  }
  return found;
}
const float = (b: Buffer, { start, end }: Part): number => (end - start === 8 ? b.readDoubleBE(start) : end - start === 4 ? b.readFloatBE(start) : 0);

export function lookAtWebm(b: Buffer): Looked {
  const [head, segment, ...more] = elements(b, 0, b.length) ?? [];
  if (!head || segment?.name !== EBML.segment || more.length > 0) return broken('WebM');
  const kind = elements(b, head.start, head.end)?.find((e) => e.name === EBML.docType);
  if (!kind || text(b, kind.start, kind.end - kind.start) !== 'webm') return { refused: 'This is a clip, but no WebM. Save it as a WebM or an MP4 and choose it again.' };
  const parts = elements(b, segment.start, segment.end);
  const within = (name: string): Part[] => {
    const part = parts?.find((e) => e.name === name);
    return (part && elements(b, part.start, part.end)) ?? [];
  };
  if (!parts?.some((e) => e.name === EBML.cluster)) return broken('WebM');
  const tracks = within(EBML.tracks).map((t) => elements(b, t.start, t.end) ?? []);
  const shown = tracks.find((t) => t.some((e) => e.name === EBML.type && b[e.start] === 1));
  if (!shown) return noPicture;
  const codec = shown.find((e) => e.name === EBML.codec);
  const name = codec ? text(b, codec.start, codec.end - codec.start) : '';
  if (!WEBM_CODINGS.includes(name)) return coding(name);
  const info = within(EBML.info);
  const scale = info.find((e) => e.name === EBML.scale);
  const duration = info.find((e) => e.name === EBML.duration);
  const tickNs = scale ? number(b, scale.start, scale.end - scale.start) : 1_000_000;
  return tooLong(((duration ? float(b, duration) : 0) * tickNs) / 1_000_000) ?? { type: 'webm' };
}
