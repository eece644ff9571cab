/** Owns the picture of where the time went: one bar to scale, and the same in numbers. */
import type { Accounts } from '../../shared/session/session.ts';
import { accountWords } from '../../shared/view/report-words.ts';
import { lengthWords } from '../../shared/view/words.ts';

export function TimeBar({ accounts }: { accounts: Accounts }) {
  const parts = accountWords.map(([key, label]) => ({ key, label, ms: accounts[key] })).filter(({ ms }) => ms > 0);
  return (
    <div className="time">
      <div className="time-bar" aria-hidden="true">{parts.map(({ key, ms }) => <i key={key} data-account={key} style={{ flexGrow: ms }} />)}</div>
      <dl>
        {parts.map(({ key, label, ms }) => (
          <div key={key}><dt><i data-account={key} aria-hidden="true" />{label}</dt><dd>{lengthWords(ms)}</dd></div>
        ))}
      </dl>
    </div>
  );
}
