/**
 * Owns the wall before a class: whose room this is, how a phone joins, and the
 * usual cautions. Read from the door and from close by; a class is not on yet.
 */
import { useMemo } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { compile } from '../../../shared/plan/compile.ts';
import { factsOf } from '../../../shared/plan/facts.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { Edge } from '../../../shared/ui/Edge.tsx';
import { Floor } from '../../../shared/ui/Floor.tsx';
import { type Floor as FloorPlan, floorOf } from '../../../shared/view/floor.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';
import { usePicture } from '../../../shared/ui/wall/picture.ts';
import { Address } from './Address.tsx';
import { useTurn, Walker, WalkerName } from './Procession.tsx';
import { Qr } from './Qr.tsx';
import { type Heard, SoundPart } from './SoundPart.tsx';
import type { ByKeys } from './use-choose-keys.ts';
import './doors.css';
import '../stop/stop.css';

interface DoorsProps {
  readonly about: NonNullable<Room['about']>;
  readonly alone: boolean;
  readonly sound: Heard;
  /** What a phone has laid out for the next class. */
  readonly plan: Plan | null;
  readonly library: Library;
  readonly now: Room['now'];
  readonly byKeys: ByKeys;
  readonly onLanguage?: (by?: number) => void;
}

/** A floor that nobody has planned: plain boards. */
const bare: FloorPlan = {
  lengthMs: 14,
  boards: Array.from({ length: 14 }, (_, k) => ({ id: String(k), kind: 'work' as const, section: 0, startMs: k, lengthMs: 1 })),
};

export function Doors({ about, alone, sound, plan, library, now, byKeys, onLanguage }: DoorsProps) {
  const { unit } = usePicture();
  const { say } = useLanguage();
  const { room, studio, pairing } = about;
  const floor = useMemo(() => (plan ? floorOf(compile(plan, Object.fromEntries([...library].map(([id, m]) => [id, factsOf(m)])))) : bare), [plan, library]);
  const turn = useTurn(plan);
  return (
    <div className="doors">
      <Edge pattern={room.pattern} />
      <section className="doors-room">
        <div className="doors-name">
          <Fit className="title" text={plan?.name ?? studio.name} most={13} lines={2} />
          <Fit className="room" text={room.name} most={9} lines={2} />
          <WalkerName id={turn} library={library} />
          <SoundPart sound={sound} {...(onLanguage ? { onLanguage } : {})} />
          <p className="key-hint" role="status">{byKeys.sentence?.(say) ?? (byKeys.plan !== null && byKeys.plan === plan?.id ? say.doors.keysStart : say.doors.keysChoose)}</p>
        </div>
        <div className="doors-body"><Walker id={turn} library={library} now={now} height={(turn === null ? 50 : 42) * unit} /></div>
        {pairing && (
          <div className="join">
            <Qr text={pairing.url} />
            <div className="join-words">
              <p className="label">{say.doors.phone}</p>
              <Address pairing={pairing} most={6.4} least={3.6} />
              <p className="code" dir="ltr">{pairing.code.replace(/^(\d{3})(\d{3})$/, '$1 $2')}</p>
            </div>
          </div>
        )}
      </section>
      <div className="ground"><Floor floor={floor} atMs={0} notch={false} /></div>
      <footer className="cautions">
        {alone ? <Fit text={say.doors.tryingAgain} most={8} lines={2} />
          : say.doors.cautions.map((c) => <Fit key={c} text={c} most={8} lines={2} />)}
      </footer>
    </div>
  );
}
