/**
 * Owns the optional voice: short words through the browser's own speech. Silent
 * where there is none, and silent before and during a count-in, which is the instructor's.
 */
import { isCount, type Signal } from '../view/signal-kinds.ts';
import type { Language } from '../words/language.ts';
import { english } from '../words/languages.ts';
import type { SoundSettings } from './settings.ts';

const BEGIN_MS = 500;
const LETTER_MS = 80;
const LONGEST_MS = 2_600;
/** How long words take, so that none is begun that a count would meet: some 13 letters a second after a slow beginning (common practice, no source). */
export const speakMs = (words: string): number => Math.min(LONGEST_MS, BEGIN_MS + LETTER_MS * words.length);

/** What is said with a signal, or nothing. `next` is the name of the movement that comes. */
export function spoken(signal: Signal, next: string, { say }: Language = english): string | null {
  switch (signal.kind) {
    case 'side-change': return say.signal.sayChangeSides;
    case 'ten-left': return say.signal.sayTenSeconds;
    case 'halfway': return say.signal.halfway;
    case 'end':
    case 'section-end': return next ? say.signal.sayNext(next) : null;
    case 'class-end': return say.class.wellDone;
    default: return null;
  }
}

/** Whether there is room for words: nothing is counted before they are over. */
export const maySpeak = (coming: readonly Signal[]): boolean => !coming.some((s) => isCount(s.kind) || s.kind === 'go');

export function speak(words: string, settings: SoundSettings, gain: number, { tag }: Language = english): void {
  if (typeof speechSynthesis === 'undefined') return;
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.lang = tag;
  // A voice of another language would read these words as its own.
  const voice = speechSynthesis.getVoices().find((v) => v.name === settings.voiceName && speaks(v, tag));
  if (voice) utterance.voice = voice;
  utterance.volume = gain;
  speechSynthesis.cancel();
  speechSynthesis.speak(utterance);
}

export function hush(): void {
  if (typeof speechSynthesis !== 'undefined') speechSynthesis.cancel();
}

/** Voices offered: those of the words' language, and no more than somebody clicks through. */
const VOICES_MAX = 6;

/** Older browsers write "de_DE". */
const speaks = (voice: SpeechSynthesisVoice, tag: string): boolean => voice.lang.split(/[-_]/)[0]?.toLowerCase() === tag.split('-')[0];

/** The names of the voices of a language that this browser has, one a line; browsers learn of them late. */
export const voicesHere = (tag: string): string =>
  (typeof speechSynthesis === 'undefined' ? [] : speechSynthesis.getVoices().filter((v) => speaks(v, tag)).slice(0, VOICES_MAX)).map((v) => v.name).join('\n');

export function watchVoices(listener: () => void): () => void {
  if (typeof speechSynthesis === 'undefined') return () => undefined;
  speechSynthesis.addEventListener?.('voiceschanged', listener);
  return () => speechSynthesis.removeEventListener?.('voiceschanged', listener);
}
