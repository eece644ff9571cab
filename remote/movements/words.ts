/** Owns the words for a movement's properties on the page of movements and in its form. */
import type { Movement, Need, Position } from '../../shared/movement/movement.ts';

export const positionWords: Record<Position, string> = {
  standing: 'standing', kneeling: 'on your knees', 'all-fours': 'on hands and knees', plank: 'in a plank', seated: 'sitting on the floor',
  chair: 'on your chair', 'face-up': 'on your back', 'face-down': 'on your front', 'side-lying': 'on your side',
};
export const impactWords: Record<Movement['impact'], string> = { none: 'no impact', low: 'low impact', high: 'high impact' };
export const sidesWords: Record<Movement['sides'], string> = { together: 'both sides together', alternating: 'left and right in turn', each: 'one side at a time' };
export const suitWords: Record<Movement['suits'][number], string> = { 'warm-up': 'warm-up', main: 'main', 'cool-down': 'cool-down' };
export const needWords: Record<Need, string> = {
  knee: 'knee', back: 'back', wrist: 'wrist', shoulder: 'shoulder', pregnancy: 'pregnancy', 'no-floor': 'no floor', 'no-jumping': 'no jumping',
};

export const COMPENDIUM = '2024 Compendium of Physical Activities';
export const intensityWords = ({ code, met }: Movement['intensity']): string => `${met} MET, code ${code}`;

/** "standing", or "standing to on your back": where a body begins and ends. */
export const whereWords = (m: Movement): string =>
  m.start === m.end ? positionWords[m.start] : `from ${positionWords[m.start]} to ${positionWords[m.end]}`;
export const tempoWords = (m: Movement): string => (m.tempoS === undefined ? (m.hold ? 'held' : '') : `${m.tempoS} s each`);

export const capital = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);
