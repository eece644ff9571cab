/** Owns what a way to end on time, or to use time, costs and gives in plain words. */
import type { Session } from '../session/session.ts';
import type { Spare } from '../session/spare.ts';
import type { Way } from '../session/ways.ts';
import type { ServerAt } from '../time/units.ts';
import { lengthWords, movementName } from './words.ts';

/** "drops the last round: 4 min 30 s less work, ends 18:44:40". @param clock how an instant is written */
export function wayWords(s: Session, way: Way, clock: (at: ServerAt) => string): string {
  const { costs } = way;
  const losses = [
    costs.workMs > 0 ? `${lengthWords(costs.workMs)} less work` : '',
    costs.showMs > 0 ? `${lengthWords(costs.showMs)} less to show` : '',
    costs.setUpMs > 0 ? `${lengthWords(costs.setUpMs)} less to set up` : costs.setUpMs < 0 ? `${lengthWords(-costs.setUpMs)} more to set up` : '',
    costs.restMs > 0 ? `${lengthWords(costs.restMs)} less rest` : '',
  ].filter(Boolean);
  const end = way.shortMs > 0 ? `ends ${clock(way.endAt)}, still ${lengthWords(Math.ceil(way.shortMs / 1_000) * 1_000)} late` : `ends ${clock(way.endAt)}`;
  return `${headOf(s, way)}: ${[...losses, end].join(', ')}`;
}

function headOf(s: Session, { kind, costs }: Way): string {
  const share = costs.shareMs > 0 ? `, the others up to ${lengthWords(costs.shareMs)} shorter` : '';
  switch (kind) {
    case 'tighter': return 'keeps all the work';
    case 'shorter': return `makes each work up to ${lengthWords(costs.shareMs)} shorter`;
    case 'round': return `drops the last ${costs.rounds === 1 ? 'round' : `${costs.rounds} rounds`}${share}`;
    case 'movement': return `leaves out ${movementName(s, costs.movement)}${share}`;
    case 'longer': return 'makes work longer';
  }
}

/** "adds a round: uses 4 min 30 s, ends 18:44:40". */
export function spareWords({ kind, usesMs, shareMs, endAt }: Spare, clock: (at: ServerAt) => string): string {
  const head = { longer: `makes each work up to ${lengthWords(shareMs)} longer`, round: 'adds a round', water: 'puts in a water break' }[kind];
  return `${head}: uses ${lengthWords(usesMs)}, ends ${clock(endAt)}`;
}
