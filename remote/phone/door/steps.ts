/** Owns the order of the door check, and what is left to say of it. Every step may be left out; none holds up a start. */
export const steps = ['room', 'screen', 'sound', 'free', 'here'] as const;
export type Step = (typeof steps)[number];
/** What became of a step; one that was left out is not in it. */
export type Checked = Readonly<Partial<Record<Step, 'good' | 'bad'>>>;

export const nextStep = (step: Step): Step | null => steps[steps.indexOf(step) + 1] ?? null;

const words: Record<Step, readonly [good: string, bad: string]> = {
  room: ['right room', 'not this room'], screen: ['screen alight', 'screen dark'], sound: ['heard', 'not heard'], free: ['end known', ''], here: ['counted', ''],
};

/** "Right room, screen alight, not heard"; empty before anything was checked. */
export function checkedWords(checked: Checked): string {
  const said = steps.flatMap((step) => {
    const how = checked[step];
    return how ? [words[step][how === 'good' ? 0 : 1]].filter(Boolean) : [];
  }).join(', ');
  return said.charAt(0).toUpperCase() + said.slice(1);
}
