/** Owns reading movement files for pictures: those that are whole. */
import { type Library, movementSchema } from '../../shared/movement/movement.ts';

export const libraryFrom = (files: readonly unknown[]): Library =>
  new Map(files.flatMap((file) => {
    const read = movementSchema.safeParse(file);
    return read.success ? [[read.data.id, read.data] as const] : [];
  }));
