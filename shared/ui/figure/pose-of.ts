/** Owns how the body in the middle stands: a room copies what it sees. */
import type { FigureProps } from './Figure.tsx';
import type { View } from '../../view/view.ts';

export function poseOf(v: View): FigureProps['pose'] {
  if (v.moving) return 'moving';
  if (v.paused) return 'resting';
  switch (v.phase) {
    case 'work':
    case 'watch': return 'moving';
    case 'set-up':
    case 'count-in':
    // An outline is not working yet: tide and body say the same.
    case 'other-side': return 'outline';
    case 'talk':
    case 'rest':
    case 'over': return 'resting';
  }
}
