/** Owns Arabic as one: what is said, and the movements. */
import type { MovementWords } from '../catalogue.ts';
import { cues } from './cues.ts';
import { ar } from './messages.ts';
import { names } from './names.ts';
import { ways } from './ways.ts';

export const arabic = { catalogue: ar, movements: { names, texts: { ...cues, ...ways } } satisfies MovementWords };
