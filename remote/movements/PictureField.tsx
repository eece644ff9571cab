/** Owns choosing a picture or a clip, and seeing it before it is sent. */
import { useEffect, useState } from 'react';
import { CLIP_MOST_BYTES, PICTURE_MOST_BYTES } from '../../shared/limits.ts';

const megabytes = (bytes: number): string => `${bytes / 1_048_576} MB`;

export function PictureField({ file, choose }: { file: File | null; choose: (file: File | null) => void }) {
  const [seen, setSeen] = useState<{ kind: 'picture' | 'clip'; address: string } | null>(null);
  useEffect(() => {
    setSeen(null);
    if (!file || file.size > CLIP_MOST_BYTES) return;
    const reader = new FileReader();
    reader.onload = () => setSeen({ kind: file.type.startsWith('video/') ? 'clip' : 'picture', address: String(reader.result) });
    reader.readAsDataURL(file);
    return () => { reader.onload = null; };
  }, [file]);
  return (
    <label className="field">
      <span>Picture or clip</span>
      <small>
        A picture (JPEG, PNG, WebP, up to {megabytes(PICTURE_MOST_BYTES)}) or a clip that goes round without a sound (MP4, WebM, up to {megabytes(CLIP_MOST_BYTES)}, 30 s).
        One side at a time: show the right side, as in a mirror; the left is turned round by itself. Without any, the room sees a body that stands.
      </small>
      <input type="file" accept="image/jpeg,image/png,image/webp,video/mp4,video/webm" onChange={(e) => choose(e.target.files?.[0] ?? null)} />
      {seen?.kind === 'picture' && <img className="preview" src={seen.address} alt="As it will be shown" />}
      {seen?.kind === 'clip' && <video className="preview" src={seen.address} controls muted loop playsInline />}
    </label>
  );
}
