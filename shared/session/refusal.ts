/** Owns why a command can be refused, and the sentence that says so to the person who pressed. */

export const refusals = {
  'too-late': 'That moment has passed. Look again, then press.',
  over: 'This class is over.',
  'already-running': 'A class is already running in this room.',
  'no-class': 'No class is running in this room.',
  paused: 'The class is paused. Carry on first.',
  'not-paused': 'The class is not paused.',
  stopped: 'This room is stopped. Go back to paused first.',
  'not-stopped': 'This room is not stopped.',
  'nothing-waits': 'Nothing is waiting for go.',
  'counting-in': 'The count-in has begun.',
  'waiting-already': 'It already waits for your go.',
  'not-a-set-up': 'Only a set-up can be made to wait.',
  'no-sides': 'Both sides work together here.',
  'last-side': 'This is the last side.',
  'too-soon': 'Too soon: each side needs at least three seconds.',
  'last-movement': 'This is the last one. To finish here, end the class.',
  'ends-on-go': 'It ends on your go and has no seconds to change.',
  'nothing-to-give': 'It cannot get any shorter.',
  'too-long': 'That would be longer than the clock allows.',
  'no-round': 'There is no round here that could be dropped or added.',
  'none-left': 'Nothing of this movement is still to come.',
  'only-movement': 'It is the only movement left here. Drop the round, or move on.',
  'same-movement': 'That is the movement that comes anyway.',
  'no-show': 'That is not a show that is still to come.',
  'nothing-done': 'No movement has been done yet.',
  'no-cool-down': 'No cool-down is still to come.',
  'not-allowed-cut': 'That would cut too much, or one side only. Look again, then choose.',
  'nothing-to-undo': 'That cannot be taken back any more.',
  enough: 'A class can be changed this way a hundred times; this was all.',
  even: 'Nothing is owed to either side.',
  'bad-plan': 'This plan cannot run as it is. Open it at the desk.',
  'unknown-plan': 'The studio has no such plan any more. Choose another.',
  'unknown-movement': 'The studio has no such movement any more. Choose another.',
  stale: 'The studio was too slow for that tap. Nothing was changed; press again.',
  busy: 'Too many taps at once. Nothing was changed; press again.',
  'not-stored': 'The log could not be written, so nothing was changed. The class goes on. Tell the studio.',
  'not-allowed': 'This device may not do that. Pair it again at the screen.',
  'bad-message': 'That message was not understood. Reload the page.',
} as const;
export type RefusalReason = keyof typeof refusals;

export interface Refusal {
  readonly reason: RefusalReason;
  readonly sentence: string;
}
export const refuse = (reason: RefusalReason, sentence: string = refusals[reason]): { readonly refused: Refusal } => ({
  refused: { reason, sentence },
});
