/** Owns the lines of the set-up page: what each is called, what it says now, and what one step less or more makes of it. */
import {
  FARTHEST_LEAST_MM, FARTHEST_MOST_MM, LOWER_EDGE_LEAST_MM, LOWER_EDGE_MOST_MM, SCREEN_LEAST_INCH, SCREEN_MOST_INCH,
} from '../../../shared/limits.ts';
import { CORRECTION_MOST_MS, type SoundSettings, volumeSteps } from '../../../shared/sound/settings.ts';
import type { Catalogue } from '../../../shared/words/catalogue.ts';
import type { Own } from './own.ts';

export interface Row {
  readonly id: string;
  readonly name: string;
  readonly says: string;
  /** @param by -1 or 1 */
  readonly step: (by: number) => void;
}

const lights = ['device', 'day', 'dim'] as const;
const CM_PER_INCH = 2.54;
const MM = 1_000;
const HALF_METRE_MM = 500;
const TENTH_MM = 100;
const CORRECTION_STEP_MS = 10;

const within = (least: number, most: number, value: number): number => Math.min(most, Math.max(least, value));
const stepped = (value: number, by: number, size: number): number => Math.round(value / size + by) * size;
const turned = <T>(list: readonly T[], at: number, by: number): T => list[(at + by + list.length) % list.length] as T;

interface Rowed {
  readonly own: Own;
  readonly change: (to: Partial<Own>) => void;
  readonly sound: SoundSettings;
  readonly changeSound: (to: Partial<SoundSettings>) => void;
  readonly say: Catalogue;
  readonly onLanguage?: (by: number) => void;
}

export function rowsOf({ own, change, sound, changeSound, say: { setUp: say, sound: sounds, doors }, onLanguage }: Rowed): readonly Row[] {
  const light = lights.indexOf(own.light);
  const timing = (ms: number): string => (ms === 0 ? sounds.asItIs : ms > 0 ? sounds.earlier(ms) : sounds.later(-ms));
  const volume = volumeSteps.findIndex((v) => v.id === sound.volume);
  return [
    { id: 'diagonal', name: say.diagonal, says: say.inches(own.diagonalInch, Math.round(own.diagonalInch * CM_PER_INCH)), step: (by) => change({ diagonalInch: within(SCREEN_LEAST_INCH, SCREEN_MOST_INCH, Math.round(own.diagonalInch) + by) }) },
    { id: 'lower-edge', name: say.lowerEdge, says: say.metres(own.lowerEdgeMm / MM), step: (by) => change({ lowerEdgeMm: within(LOWER_EDGE_LEAST_MM, LOWER_EDGE_MOST_MM, stepped(own.lowerEdgeMm, by, TENTH_MM)) }) },
    { id: 'farthest', name: say.farthest, says: say.metres(own.farthestMatMm / MM), step: (by) => change({ farthestMatMm: within(FARTHEST_LEAST_MM, FARTHEST_MOST_MM, stepped(own.farthestMatMm, by, HALF_METRE_MM)) }) },
    { id: 'light', name: say.light, says: say.lights[own.light], step: (by) => change({ light: turned(lights, light, by) }) },
    { id: 'margin', name: say.cutsEdges, says: own.overscan ? say.edgesFree : say.no, step: () => change({ overscan: !own.overscan }) },
    ...(onLanguage ? [{ id: 'language', name: say.language, says: doors.language, step: onLanguage }] : []),
    { id: 'sound', name: say.sound, says: sounds.volume[sound.volume], step: (by) => changeSound({ volume: volumeSteps[within(0, volumeSteps.length - 1, volume + by)]?.id ?? sound.volume }) },
    { id: 'delay', name: say.delay, says: timing(sound.correctionMs), step: (by) => changeSound({ correctionMs: within(-CORRECTION_MOST_MS, CORRECTION_MOST_MS, sound.correctionMs + by * CORRECTION_STEP_MS) }) },
  ];
}
