/** Owns the line at the desk that says how this studio stands with the chain's server, and the way to the houses where they report here. */
import { useEffect, useState } from 'react';
import { type ChainStands, chainStandsSchema } from '../../../shared/wire/house.ts';
import { useGet } from '../../common/use-get.ts';
import { whenWords } from './when-words.ts';

/** What stands here changes by itself. */
const AGAIN_MS = 15_000;

export function ChainLine() {
  const [got, again] = useGet('/api/chain', chainStandsSchema);
  const [stands, keep] = useState<ChainStands | null>(null);
  useEffect(() => {
    if (!got || !('ok' in got)) return;
    keep(got.ok);
    if (!got.ok.upward) return;
    const timer = setTimeout(again, AGAIN_MS);
    return () => clearTimeout(timer);
  }, [got, again]);
  if (!stands) return null;
  const { upward, houses, timeZone } = stands;
  const when = (at: number) => whenWords(at, timeZone);
  return (
    <>
      {houses > 0 && <p className="chain-line">{houses === 1 ? 'One house reports' : `${houses} houses report`} here. <a href="/desk/houses">Houses</a></p>}
      {upward && (
        <div className="chain-line" data-well={upward.troubles.length + upward.conflicts === 0}>
          <p>
            {upward.upTo === null ? 'It is not known yet what the chain has.' : <>The chain has everything up to <b>{when(upward.upTo)}</b>{upward.heardAt === null ? '.' : `, last heard ${when(upward.heardAt)}.`}</>}
            {upward.waiting > 0 && ` ${upward.waiting === 1 ? 'One class waits' : `${upward.waiting} classes wait`} here.`}
            {upward.plansAt !== null && ` What it plans was taken ${when(upward.plansAt)}.`}
          </p>
          {upward.conflicts > 0 && <p className="sentence">{upward.conflicts === 1 ? 'One thing was changed by the chain and here otherwise, and waits' : `${upward.conflicts} things were changed by the chain and here otherwise, and wait`} until you choose. <a href="/desk/chain">Choose</a></p>}
          {upward.troubles.map((sentence) => <p key={sentence} className="sentence">{sentence}</p>)}
        </div>
      )}
    </>
  );
}
