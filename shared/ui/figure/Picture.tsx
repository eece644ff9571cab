/**
 * Owns a studio's own picture or clip where a figure would stand, in the same room.
 * A clip goes round without a sound; still, it shows where it begins. Pictures are
 * made as a mirror for the right, like figures; the left is their mirror image.
 */
import { type CSSProperties, type ReactNode, useContext, useEffect, useRef, useState } from 'react';
import type { Movement } from '../../movement/movement.ts';
import type { Picture as OwnPicture } from '../../movement/picture.ts';
import type { FigureProps } from './Figure.tsx';
import { PictureAddress } from './picture-address.ts';

/** Narrower than a figure's box, which is mostly empty at its sides: no words may stand on a picture. */
const PICTURE_ASPECT = 1;

type PictureProps = Omit<FigureProps, 'movement' | 'atMs' | 'sash'> & { readonly movement: Movement; readonly picture: OwnPicture; readonly instead: ReactNode };

/** @param instead shown where the file is not there or this screen cannot show it */
export function Picture({ movement, picture, instead, pose, side, height, className, title }: PictureProps) {
  const [torn, setTorn] = useState(false);
  const clip = useRef<HTMLVideoElement>(null);
  const moves = pose === 'moving';
  useEffect(() => {
    if (!clip.current) return;
    if (moves) clip.current.play().catch(() => {});
    else {
      clip.current.pause();
      clip.current.currentTime = 0;
    }
  }, [moves]);
  const style: CSSProperties = {
    height, width: 'auto', aspectRatio: String(PICTURE_ASPECT), display: 'block', objectFit: 'contain', objectPosition: 'bottom',
    transform: side === 'left' && movement.sides === 'each' ? 'scaleX(-1)' : undefined,
    filter: pose === 'outline' ? 'grayscale(1) opacity(0.7)' : undefined,
  };
  const address = useContext(PictureAddress)(picture);
  if (torn) return instead;
  if (picture.kind === 'picture') return <img className={className} style={style} src={address} alt={title ?? ''} onError={() => setTorn(true)} />;
  return (
    <video
      ref={clip} className={className} style={style} src={address} muted loop playsInline disablePictureInPicture preload={moves ? 'auto' : 'metadata'}
      onError={() => setTorn(true)} aria-label={title} aria-hidden={title ? undefined : true}
    />
  );
}
