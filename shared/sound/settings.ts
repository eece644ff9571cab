/**
 * Owns what a studio can set about the sound of one screen. It stays on that
 * screen, since its loudspeaker does. Leaves alone playing.
 */

export const CORRECTION_MOST_MS = 300;

/** Named by what they can be heard over (shared/words); decibels below the files, which are all alike. */
export const volumeSteps = [
  { id: 'silent', gain: 0 },
  { id: 'quiet-room', gain: 10 ** (-24 / 20) },
  { id: 'over-talk', gain: 10 ** (-12 / 20) },
  { id: 'over-music', gain: 10 ** (-5 / 20) },
  { id: 'full', gain: 1 },
] as const;
export type VolumeStep = (typeof volumeSteps)[number]['id'];

export interface SoundSettings {
  readonly volume: VolumeStep;
  /** Added to what the browser says of its output: above 0 where the loudspeaker is late, so that sounds start earlier. */
  readonly correctionMs: number;
  readonly halfway: boolean;
  readonly voice: boolean;
  /** The name of the voice; null is the browser's own choice. */
  readonly voiceName: string | null;
}

export const defaults: SoundSettings = { volume: 'over-music', correctionMs: 0, halfway: false, voice: false, voiceName: null };

const KEY = 'hallclock.sound';

/** What may be believed of a thing that was stored by an older page, or by hand. */
export function sane(stored: unknown): SoundSettings {
  const s: Partial<Record<keyof SoundSettings, unknown>> = typeof stored === 'object' && stored !== null ? stored : {};
  const step = volumeSteps.find((v) => v.id === s.volume);
  const correction = typeof s.correctionMs === 'number' && Number.isFinite(s.correctionMs) ? s.correctionMs : 0;
  return {
    volume: step?.id ?? defaults.volume,
    correctionMs: Math.round(Math.min(CORRECTION_MOST_MS, Math.max(-CORRECTION_MOST_MS, correction))),
    halfway: s.halfway === true,
    voice: s.voice === true,
    voiceName: typeof s.voiceName === 'string' ? s.voiceName : null,
  };
}

export function loadSettings(): SoundSettings {
  try {
    return sane(JSON.parse(localStorage.getItem(KEY) ?? 'null'));
  } catch {
    // Private windows and full disks have no storage; the screen sounds all the same.
    return defaults;
  }
}

export function saveSettings(settings: SoundSettings): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(settings));
  } catch {
    // Kept until the page is closed.
  }
}

export const gainOf = (step: VolumeStep): number => volumeSteps.find((v) => v.id === step)?.gain ?? 0;
