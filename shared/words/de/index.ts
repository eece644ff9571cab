/** Owns German as one: what is said, and the movements. */
import type { MovementWords } from '../catalogue.ts';
import { cues } from './cues.ts';
import { de } from './messages.ts';
import { names } from './names.ts';
import { ways } from './ways.ts';

export const german = { catalogue: de, movements: { names, texts: { ...cues, ...ways } } satisfies MovementWords };
