/** Owns the positions that movements start from, so that a key pose says only what differs. */
import type { FigureData, Key } from './figure.ts';

type Base = Omit<Key, 'at' | 'held' | 'base'>;

/** Arms as they hang: a little forward, a little bent, away from the body. */
const hang = { flexion: 4, abduction: 9, rotation: 10, elbow: 14, wrist: 0, handTurn: 15 };
/** A knee on the floor: the shank rises to the ankle so that the instep lies. */
const kneeling = { knee: 99, ankle: -50 };

export const basePoses: Record<FigureData['base'], Base> = {
  stand: { arms: hang, feet: { on: 'floor', x: 0, y: 0.06, turn: 8 } },
  chair: { root: { z: 0.305 }, arms: { ...hang, flexion: 12, elbow: 40 }, feet: { on: 'floor', x: 0.25, y: 0.07, turn: 5 } },
  'all-fours': {
    pin: { part: 'knee' }, root: { lean: 75.5 }, trunk: {}, neck: { flexion: -12 }, arms: { flexion: 80 },
    legs: { flexion: 75.5, ...kneeling }, hands: { on: 'floor', x: 0.29, y: 0.11 },
  },
  plank: {
    pin: { part: 'foot' }, root: { lean: 70.3 }, neck: { flexion: -12 }, arms: { flexion: 70 }, legs: { ankle: 8 },
    hands: { on: 'floor', x: 0.765, y: 0.135 },
  },
  supine: {
    root: { lean: -90, z: 0.068 }, arms: { flexion: -5, abduction: 16, elbow: 6, handTurn: 70 },
    feet: { on: 'floor', x: 0.3, y: 0.06 },
  },
  prone: { root: { lean: 90, z: 0.062 }, legs: { flexion: -4, ankle: -50, abduction: 4 }, arms: { flexion: 165, abduction: 20, elbow: 10 } },
  kneel: { pin: { part: 'knee' }, legs: kneeling, arms: hang },
  sit: { root: { z: 0.07 }, legs: { flexion: 92, knee: 2, abduction: 4 }, arms: { flexion: -10, abduction: 15, elbow: 10 } },
  'side-lying': { root: { roll: -90, z: 0.098 }, legs: { flexion: 10, knee: 10 }, arms: { flexion: 40, elbow: 40 } },
};
