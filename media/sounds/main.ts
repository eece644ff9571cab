/**
 * Writes the sounds of the rooms beside itself: `npx tsx media/sounds/main.ts`.
 * One file a room, and the map. The same source gives the same bytes.
 */
import { writeFileSync } from 'node:fs';
import { makeSprites } from './make.ts';
import { RATE } from './timbre.ts';
import { toWav } from './wav.ts';

const { rooms, map } = makeSprites();
const files = rooms.map((samples, i) => {
  const name = `room-${i}.wav`;
  writeFileSync(new URL(name, import.meta.url), toWav(samples, RATE));
  return name;
});
writeFileSync(new URL('sprite.json', import.meta.url), `${JSON.stringify({ files, signals: map }, null, 1)}\n`);
