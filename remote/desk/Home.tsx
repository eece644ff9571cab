/** Owns the desk's first page: the classes held, and the studio's plans with what is wrong with them. */
import { PlansPart } from './PlansPart.tsx';
import { HeldPart } from './HeldPart.tsx';
import { EmergencyPart } from './emergency/EmergencyPart.tsx';
import { ChainLine } from './houses/ChainLine.tsx';
import { DeskNav } from './review/DeskNav.tsx';

export function Home() {
  return (
    <main className="desk">
      <DeskNav here="/desk" />
      <ChainLine />
      <HeldPart />
      <PlansPart />
      <EmergencyPart />
    </main>
  );
}
