/** Owns the schema of a movement's figure (key poses and contacts). */
import { z } from 'zod';

export const figureSchema = z.unknown();
