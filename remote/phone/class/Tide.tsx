/** Owns the tide's height on the phone, moved at each frame without React; halves, outline and hatching are classes. */
import { useEffect, useRef } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { type View, view } from '../../../shared/view/view.ts';

export function Tide({ room, v }: { room: Room; v: View }) {
  const self = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let frame = 0;
    const draw = () => {
      const now = room.now();
      if (room.session && now !== null) self.current?.style.setProperty('--share', view(room.session, now).share.toFixed(4));
      frame = requestAnimationFrame(draw);
    };
    draw();
    return () => cancelAnimationFrame(frame);
  }, [room]);
  return (
    <div ref={self} className="tide" data-paused={v.paused !== null} aria-hidden="true">
      <i className="half" data-is={v.tide.left} />
      <i className="half" data-is={v.tide.right} />
    </div>
  );
}
