/** Owns the lines of the set-up page: what each is called, what it says now, and what one step less or more makes of it. */
import {
  FARTHEST_LEAST_MM, FARTHEST_MOST_MM, LOWER_EDGE_LEAST_MM, LOWER_EDGE_MOST_MM, SCREEN_LEAST_INCH, SCREEN_MOST_INCH,
} from '../../../shared/limits.ts';
import { CORRECTION_MOST_MS, type SoundSettings, type VolumeStep, volumeSteps } from '../../../shared/sound/settings.ts';
import type { Own } from './own.ts';

export interface Row {
  readonly id: string;
  readonly name: string;
  readonly says: string;
  /** @param by -1 or 1 */
  readonly step: (by: number) => void;
}

const lights = [{ id: 'device', name: 'As the device' }, { id: 'day', name: 'Day' }, { id: 'dim', name: 'Dim' }] as const;
const CM_PER_INCH = 2.54;
const HALF_METRE_MM = 500;
const TENTH_MM = 100;
const CORRECTION_STEP_MS = 10;

const within = (least: number, most: number, value: number): number => Math.min(most, Math.max(least, value));
const stepped = (value: number, by: number, size: number): number => Math.round(value / size + by) * size;
export const metres = (mm: number): string => `${(mm / 1_000).toFixed(1)}\u00a0m`;
const timing = (ms: number): string => (ms === 0 ? 'as it is' : `${Math.abs(ms)} ms ${ms > 0 ? 'earlier' : 'later'}`);
const turned = <T>(list: readonly T[], at: number, by: number): T => list[(at + by + list.length) % list.length] as T;

interface Rowed {
  readonly own: Own;
  readonly change: (to: Partial<Own>) => void;
  readonly sound: SoundSettings;
  readonly changeSound: (to: Partial<SoundSettings>) => void;
  /** How loud each step is called. */
  readonly volumes: Readonly<Record<VolumeStep, string>>;
}

export function rowsOf({ own, change, sound, changeSound, volumes }: Rowed): readonly Row[] {
  const light = lights.findIndex((l) => l.id === own.light);
  const volume = volumeSteps.findIndex((v) => v.id === sound.volume);
  return [
    { id: 'diagonal', name: 'Diagonal of the picture', says: `${own.diagonalInch} inch, ${Math.round(own.diagonalInch * CM_PER_INCH)} cm`, step: (by) => change({ diagonalInch: within(SCREEN_LEAST_INCH, SCREEN_MOST_INCH, Math.round(own.diagonalInch) + by) }) },
    { id: 'lower-edge', name: 'Lower edge over the floor', says: metres(own.lowerEdgeMm), step: (by) => change({ lowerEdgeMm: within(LOWER_EDGE_LEAST_MM, LOWER_EDGE_MOST_MM, stepped(own.lowerEdgeMm, by, TENTH_MM)) }) },
    { id: 'farthest', name: 'Farthest mat', says: metres(own.farthestMatMm), step: (by) => change({ farthestMatMm: within(FARTHEST_LEAST_MM, FARTHEST_MOST_MM, stepped(own.farthestMatMm, by, HALF_METRE_MM)) }) },
    { id: 'light', name: 'Light', says: lights[light]?.name ?? '', step: (by) => change({ light: turned(lights, light, by).id }) },
    { id: 'margin', name: 'The television cuts edges off', says: own.overscan ? 'Yes: 5 % stay free' : 'No', step: () => change({ overscan: !own.overscan }) },
    { id: 'sound', name: 'Sound', says: volumes[sound.volume], step: (by) => changeSound({ volume: volumeSteps[within(0, volumeSteps.length - 1, volume + by)]?.id ?? sound.volume }) },
    { id: 'delay', name: 'Sound against picture', says: timing(sound.correctionMs), step: (by) => changeSound({ correctionMs: within(-CORRECTION_MOST_MS, CORRECTION_MOST_MS, sound.correctionMs + by * CORRECTION_STEP_MS) }) },
  ];
}
