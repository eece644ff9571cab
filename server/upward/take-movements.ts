/** Owns what becomes here of a movement that the chain made: it is kept where there is none of that name, or none that was changed here; its picture is the studio's own. */
import { z } from 'zod';
import { OWN_MOVEMENTS_MAX } from '../../shared/limits.ts';
import { type Movement, movementSchema } from '../../shared/movement/movement.ts';
import { revisionSchema } from '../../shared/wire/plans.ts';
import { type Files, notKept, type StudioFiles } from '../files/files.ts';
import { revisionOf } from '../plans/keep.ts';
import { Hindered } from './hindered.ts';

export const movementStandsSchema = z.strictObject({
  /** The chain's version that was met last, and the one that was written here; null where the studio's own stays. */
  seen: revisionSchema, written: revisionSchema.nullable(),
});
export type MovementStands = z.infer<typeof movementStandsSchema>;

const FOLDER = 'movements';
async function hereOf(files: Files, id: string): Promise<Movement | 'broken' | null> {
  const bytes = await files.read(FOLDER, `${id}.json`);
  if (!bytes) return null;
  try {
    return movementSchema.safeParse(JSON.parse(bytes.toString('utf8'))).data ?? 'broken';
  } catch {
    return 'broken';
  }
}

/** Rejects with Hindered where it cannot be written. @returns null where the studio has too many */
export function takeMovement(files: StudioFiles, theirs: Movement, before: MovementStands | null, say: (sentence: string) => void): Promise<MovementStands | null> {
  return files.alone(async (alone): Promise<MovementStands | null> => {
    const seen = revisionOf(theirs);
    const here = await hereOf(alone, theirs.id);
    const { picture, ...bare } = here === null || here === 'broken' ? { picture: undefined } : here;
    const own = here === null ? null : revisionOf(bare);
    if (own === seen) return { seen, written: seen };
    if (own !== null && (before === null || own !== before.written)) return { seen, written: null };
    if (own === null && (await alone.list(FOLDER)).filter((f) => f.name.endsWith('.json')).length >= OWN_MOVEMENTS_MAX) {
      say(`The movement “${theirs.name}” of the chain is not here: the studio has ${OWN_MOVEMENTS_MAX} movements of its own, which is the most.`);
      return null;
    }
    await alone.write(FOLDER, `${theirs.id}.json`, `${JSON.stringify({ ...theirs, ...(picture ? { picture } : {}) }, null, 2)}\n`);
    return { seen, written: seen };
  }).catch(() => { throw new Hindered(notKept(files)); });
}
