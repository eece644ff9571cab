/**
 * Owns the moment of arriving in another room: its name and its edge, and nothing to press.
 * A second tap that was meant for the room before falls on nothing.
 */
import { type ReactNode, useEffect, useState } from 'react';
import { Edge } from '../../../shared/ui/Edge.tsx';
import type { Room } from '../../../shared/wire/messages/snapshot.ts';

const ARRIVE_MS = 1_200;

export function Arrived({ to, children }: { to: Room | null; children: ReactNode }) {
  const [arriving, setArriving] = useState(to !== null);
  useEffect(() => {
    const timer = setTimeout(() => setArriving(false), ARRIVE_MS);
    return () => clearTimeout(timer);
  }, []);
  if (!arriving || !to) return children;
  return (
    <main className="page arrived" role="status">
      <Edge pattern={to.pattern} />
      <h1>{to.name}</h1>
      <Edge pattern={to.pattern} />
    </main>
  );
}
