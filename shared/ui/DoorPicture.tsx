/** Owns how the pictures of the door check look: cut from dark paper, one shape each, told apart from the back of a room. */
import type { DoorPicture as Id } from '../view/door-pictures.ts';
import { useLanguage } from './language.ts';

const shapes: Readonly<Record<Id, string>> = {
  cup: 'M14 26h56v14h6a16 16 0 0 1 0 32h-7a26 26 0 0 1-20 14H34a20 20 0 0 1-20-20zm56 24v13h5a6.5 6.5 0 0 0 0-13z',
  house: 'M50 10 92 46H80v42H58V62H42v26H20V46H8z',
  leaf: 'M86 12c4 40-8 66-44 68-6 0-11-1-15-3L16 90l-8-7 13-15C12 36 44 16 86 12zM34 66c16-20 26-28 38-36-16 4-32 14-44 30z',
  boat: 'M46 8v52H12zM54 22l32 38H54zM6 66h88c-6 16-16 24-30 24H36C22 90 12 82 6 66z',
  key: 'M30 28c9 0 17 6 20 15h44v26H82V57h-8v9H62v-9H50c-3 9-11 15-20 15-12 0-22-10-22-22s10-22 22-22zm0 14a8 8 0 1 0 0 16 8 8 0 0 0 0-16z',
  fish: 'M6 50c14-24 40-32 62-12l24-18v60L68 62C46 82 20 74 6 50zm22-9a5 5 0 1 0 0 10 5 5 0 0 0 0-10z',
  tree: 'M50 6 82 44H68l20 26H57v22H43V70H12l20-26H18z',
  bell: 'M50 8a7 7 0 0 1 7 8c14 4 21 15 21 30v16l12 14v4H10v-4l12-14V46c0-15 7-26 21-30a7 7 0 0 1 7-8zM38 84h24a12 12 0 0 1-24 0z',
};

export function DoorPicture({ id, size }: { readonly id: Id; readonly size: number | string }) {
  const { doors: say } = useLanguage().say;
  return (
    <svg viewBox="0 0 100 100" width={size} height={size} role="img" aria-label={say.picture[id]} data-door-picture={id}>
      <path d={shapes[id]} fill="currentColor" fillRule="evenodd" />
    </svg>
  );
}
