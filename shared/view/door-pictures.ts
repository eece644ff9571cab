/**
 * Owns the pictures of the door check: plain things that nobody confuses from the back of
 * a room. The screen shows one of them and the instructor taps the same on the phone,
 * since no page can know whether its panel is alight.
 */
export const doorPictures = ['cup', 'house', 'leaf', 'boat', 'key', 'fish', 'tree', 'bell'] as const;
export type DoorPicture = (typeof doorPictures)[number];

/** How many are to choose from: fewer are guessed, more are searched. */
export const AMONG = 4;

/** One that is shown and those it is chosen from, in an order that gives nothing away. @param chance 0 to 1, each time another */
export function pickPicture(chance: () => number): { readonly picture: DoorPicture; readonly among: readonly DoorPicture[] } {
  const rest: DoorPicture[] = [...doorPictures];
  const among = Array.from({ length: AMONG }, () => rest.splice(Math.floor(chance() * rest.length), 1)[0] as DoorPicture);
  return { picture: among[Math.floor(chance() * among.length)] as DoorPicture, among };
}
