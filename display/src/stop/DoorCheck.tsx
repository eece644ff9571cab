/** Owns the picture that tells an instructor that this screen is alight: one thing, large, nothing else. */
import { DoorPicture } from '../../../shared/ui/DoorPicture.tsx';
import { usePicture } from '../../../shared/ui/wall/picture.ts';
import type { DoorPicture as Id } from '../../../shared/view/door-pictures.ts';
import './stop.css';

export function DoorCheck({ picture }: { readonly picture: Id }) {
  const { unit } = usePicture();
  return <div className="door-check"><DoorPicture id={picture} size={72 * unit} /></div>;
}
