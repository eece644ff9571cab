/** Owns the options for the people who are here, before everything else that is said of a movement. */
import type { Fitting, OptionLine } from '../../../shared/view/options.ts';

/** Those who may do it as shown are named in one line; a line each would hide the ones that ask for something. */
export function optionWords(lines: readonly OptionLine[]): readonly { readonly label: string; readonly words: string; readonly ask: boolean }[] {
  const other = lines.filter((l) => !l.same).map(({ label, words, ask }) => ({ label, words: words.charAt(0).toLowerCase() + words.slice(1), ask }));
  const same = lines.filter((l) => l.same).map((l) => l.label);
  return same.length === 0 ? other : [...other, { label: same.join(', '), words: 'as shown', ask: false }];
}

export function Options({ of, name = false }: { of: readonly Fitting[]; name?: boolean }) {
  return of.flatMap(({ movement, name: called, lines }) => {
    // At the stations only what is otherwise is worth its place.
    const said = optionWords(name ? lines.filter((l) => !l.same) : lines);
    return said.map(({ label, words, ask }) => (
      <p key={`${movement} ${label}`} className="fact for-here" data-ask={ask}><b>{label}:</b> {words}{name && <small> {called}</small>}</p>
    ));
  });
}
