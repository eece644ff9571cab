/**
 * Owns putting sections, and the moves in them, in another order, by hand or with the keys (space, arrows, space); a move
 * may go into another section. The moving is dnd-kit's. A section's id names it, "main:2" is the third move of "main",
 * and "main:end" the place behind its last.
 */
import { closestCenter, type CollisionDetection, DndContext, type DragEndEvent, type KeyboardCoordinateGetter, KeyboardSensor, PointerSensor, useDroppable, useSensor, useSensors } from '@dnd-kit/core';
import { SortableContext, useSortable, verticalListSortingStrategy } from '@dnd-kit/sortable';
import { CSS } from '@dnd-kit/utilities';
import type { ReactNode } from 'react';

/** A place: of a section in the plan, or of a move in a section; `at` is null behind the last. */
export interface Place { readonly section: string; readonly at: number | null }
const isMove = (id: string | number): boolean => String(id).includes(':');
export const moveId = (section: string, at: number): string => `${section}:${at}`;
const endId = (section: string): string => `${section}:end`;
const placeOf = (id: string | number): Place => {
  const [section = '', at = ''] = String(id).split(':');
  return { section, at: at === 'end' ? null : Number(at) };
};

/** Sections go among sections, moves among moves. */
const among: CollisionDetection = (args) =>
  closestCenter({ ...args, droppableContainers: args.droppableContainers.filter((c) => isMove(c.id) === isMove(args.active.id)) });

/** The arrows go to the next place of the same kind, up or down the page; centre upon centre, however high they are. The page scrolls at once: a key pressed while it still glides would count from where nothing is. */
const nextPlace: KeyboardCoordinateGetter = (event, { active, context: { collisionRect, droppableContainers, droppableRects, over } }) => {
  const down = event.code === 'ArrowDown';
  if ((!down && event.code !== 'ArrowUp') || !collisionRect) return undefined;
  event.preventDefault();
  const middle = (r: { readonly top: number; readonly height: number }): number => r.top + r.height / 2;
  const places = droppableContainers.getEnabled()
    .flatMap((c) => { const rect = droppableRects.get(c.id); return rect && isMove(c.id) === isMove(active) ? [rect] : []; })
    .sort((a, b) => middle(a) - middle(b));
  // From the place that was said: what is held stays where it is when the page moves under it, as it does when something is kept.
  const here = middle((over && droppableRects.get(over.id)) ?? collisionRect);
  const to = down ? places.find((r) => middle(r) > here + 1) : places.findLast((r) => middle(r) < here - 1);
  return to && { x: to.left, y: middle(to) - collisionRect.height / 2 };
};

interface BoardProps {
  /** Sections with the names of their moves, in their order. */
  readonly sections: readonly { readonly id: string; readonly name: string; readonly moves: readonly string[] }[];
  readonly moveSection: (from: number, to: number) => void;
  readonly moveMove: (from: Place, to: Place) => void;
  readonly children: ReactNode;
}

export function SortableBoard({ sections, moveSection, moveMove, children }: BoardProps) {
  const sensors = useSensors(useSensor(PointerSensor, { activationConstraint: { distance: 5 } }), useSensor(KeyboardSensor, { coordinateGetter: nextPlace, scrollBehavior: 'auto' }));
  const indexOf = (id: string | number): number => sections.findIndex((s) => s.id === String(id));
  const end = ({ active, over }: DragEndEvent) => {
    if (!over || active.id === over.id) return;
    if (isMove(active.id)) moveMove(placeOf(active.id), placeOf(over.id));
    else moveSection(indexOf(active.id), indexOf(over.id));
  };
  const sectionOf = (id: string | number) => sections[indexOf(placeOf(id).section)];
  const nameOf = (id: string | number): string => (isMove(id) ? sectionOf(id)?.moves[placeOf(id).at ?? 0] : sections[indexOf(id)]?.name) ?? '';
  const place = (id: string | number): string => {
    if (!isMove(id)) return `place ${indexOf(id) + 1} of ${sections.length}`;
    const { at } = placeOf(id);
    const s = sectionOf(id);
    return at === null ? `the end of ${s?.name ?? ''}` : `place ${at + 1} of ${s?.moves.length ?? 0} in ${s?.name ?? ''}`;
  };
  type Said = Pick<DragEndEvent, 'active' | 'over'>;
  const spoken = {
    announcements: {
      onDragStart: ({ active }: Pick<DragEndEvent, 'active'>) => `${nameOf(active.id)} is picked up, ${place(active.id)}.`,
      onDragOver: ({ active, over }: Said) => (over ? `${nameOf(active.id)} is over ${place(over.id)}.` : undefined),
      onDragEnd: ({ active, over }: Said) => `${nameOf(active.id)} is put down${over ? `, ${place(over.id)}` : ''}.`,
      onDragCancel: ({ active }: Pick<DragEndEvent, 'active'>) => `${nameOf(active.id)} stays where it was.`,
    },
    screenReaderInstructions: { draggable: 'Space picks it up, the arrows move it, space puts it down, escape leaves it where it was.' },
  };
  return <DndContext accessibility={spoken} sensors={sensors} collisionDetection={among} onDragEnd={end}>{children}</DndContext>;
}

interface ListProps { readonly ids: readonly string[]; readonly className: string; readonly children: ReactNode }

export function SortableList({ ids, className, children }: ListProps) {
  return (
    <SortableContext items={[...ids]} strategy={verticalListSortingStrategy}>
      <ol className={className}>{children}</ol>
    </SortableContext>
  );
}

interface ItemProps { readonly id: string; readonly name: string; readonly className: string; readonly children: (grip: ReactNode) => ReactNode; readonly [data: `data-${string}`]: string | undefined }

/** Whether a move of another section is held over this place. */
const comesHere = (isOver: boolean, active: { readonly id: string | number } | null, section: string): boolean =>
  isOver && active !== null && isMove(active.id) && placeOf(active.id).section !== section;

export function SortableItem({ id, name, className, children, ...data }: ItemProps) {
  const { attributes, listeners, setNodeRef, setActivatorNodeRef, transform, transition, isDragging, isOver, active } = useSortable({ id });
  const grip = (
    <button type="button" ref={setActivatorNodeRef} className="grip" {...attributes} {...listeners} aria-label={`Move ${name}`}>
      <svg viewBox="0 0 16 24" width="12" height="18" aria-hidden="true">{[5, 12, 19].flatMap((y) => [4, 12].map((x) => <circle key={`${x}${y}`} cx={x} cy={y} r="2.2" fill="currentColor" />))}</svg>
    </button>
  );
  const into = isMove(id) && comesHere(isOver, active, placeOf(id).section);
  return (
    <li ref={setNodeRef} className={className} data-dragged={isDragging} data-into={into || undefined} {...data} style={{ transform: CSS.Translate.toString(transform), transition }}>
      {children(grip)}
    </li>
  );
}

/** The place behind the last move of a section, around what stands there. */
export function SortableEnd({ section, className, children }: { section: string; className: string; children: ReactNode }) {
  const { setNodeRef, isOver, active } = useDroppable({ id: endId(section) });
  return <div ref={setNodeRef} className={className} data-into={comesHere(isOver, active, section) || undefined}>{children}</div>;
}
