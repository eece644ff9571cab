/** Owns the strip that is this room's own: eight patterns of ink and clay, so that nobody pauses the class next door. */
export const RoomEdge = ({ pattern }: { pattern: number }) => <div className="edge" data-pattern={pattern % 8} aria-hidden="true" />;
