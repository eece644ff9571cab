/** Owns the studio's emergency facts and the notes for cover teachers: one small file each. */
import { z } from 'zod';
import { noteText } from '../../shared/session/session.ts';
import { type Emergency, emergencySchema, noEmergency } from '../../shared/wire/emergency.ts';
import type { StudioFiles } from '../files/files.ts';
import { type Kept, openKept } from './kept.ts';

/** By plan id: what is left for whoever covers it. No names. */
export const notesSchema = z.record(z.string().max(60), noteText);

/** @param changed called when another server wrote them */
export const openEmergency = (files: StudioFiles, warn: (sentence: string) => void, changed: () => void): Promise<Kept<Emergency>> =>
  openKept(files, 'emergency.json', emergencySchema, noEmergency, warn, { changed });
export const openNotes = (files: StudioFiles, warn: (sentence: string) => void): Promise<Kept<Record<string, string>>> =>
  openKept(files, 'cover-notes.json', notesSchema, {}, warn);
