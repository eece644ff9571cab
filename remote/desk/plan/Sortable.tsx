/** Owns a list that is put in another order by hand or with the keys (space, arrows, space). The moving is dnd-kit's. */
import { closestCenter, DndContext, type DragEndEvent, KeyboardSensor, PointerSensor, useSensor, useSensors } from '@dnd-kit/core';
import { SortableContext, sortableKeyboardCoordinates, useSortable, verticalListSortingStrategy } from '@dnd-kit/sortable';
import { CSS } from '@dnd-kit/utilities';
import type { ReactNode } from 'react';

interface ListProps {
  readonly ids: readonly string[];
  /** What a reader says of each, in the order of the ids. */
  readonly names: readonly string[];
  readonly move: (from: number, to: number) => void; readonly className: string; readonly children: ReactNode }

export function SortableList({ ids, names, move, className, children }: ListProps) {
  const sensors = useSensors(
    useSensor(PointerSensor, { activationConstraint: { distance: 5 } }),
    useSensor(KeyboardSensor, { coordinateGetter: sortableKeyboardCoordinates }),
  );
  const end = ({ active, over }: DragEndEvent) => {
    if (!over || active.id === over.id) return;
    move(ids.indexOf(String(active.id)), ids.indexOf(String(over.id)));
  };
  const nameOf = (id: string | number): string => names[ids.indexOf(String(id))] ?? '';
  const place = (id: string | number): string => `place ${ids.indexOf(String(id)) + 1} of ${ids.length}`;
  const spoken = {
    announcements: {
      onDragStart: ({ active }: Pick<DragEndEvent, 'active'>) => `${nameOf(active.id)} is picked up, ${place(active.id)}.`,
      onDragOver: ({ active, over }: Pick<DragEndEvent, 'active' | 'over'>) => (over ? `${nameOf(active.id)} is over ${place(over.id)}.` : undefined),
      onDragEnd: ({ active, over }: Pick<DragEndEvent, 'active' | 'over'>) => `${nameOf(active.id)} is put down${over ? `, ${place(over.id)}` : ''}.`,
      onDragCancel: ({ active }: Pick<DragEndEvent, 'active'>) => `${nameOf(active.id)} stays where it was.`,
    },
    screenReaderInstructions: { draggable: 'Space picks it up, the arrows move it, space puts it down, escape leaves it where it was.' },
  };
  return (
    <DndContext accessibility={spoken} sensors={sensors} collisionDetection={closestCenter} onDragEnd={end}>
      <SortableContext items={[...ids]} strategy={verticalListSortingStrategy}>
        <ol className={className}>{children}</ol>
      </SortableContext>
    </DndContext>
  );
}

interface ItemProps { readonly id: string; readonly name: string; readonly className: string; readonly children: (grip: ReactNode) => ReactNode; readonly [data: `data-${string}`]: string | undefined }

export function SortableItem({ id, name, className, children, ...data }: ItemProps) {
  const { attributes, listeners, setNodeRef, setActivatorNodeRef, transform, transition, isDragging } = useSortable({ id });
  const grip = (
    <button type="button" ref={setActivatorNodeRef} className="grip" {...attributes} {...listeners} aria-label={`Move ${name}`}>
      <svg viewBox="0 0 16 24" width="12" height="18" aria-hidden="true">{[5, 12, 19].flatMap((y) => [4, 12].map((x) => <circle key={`${x}${y}`} cx={x} cy={y} r="2.2" fill="currentColor" />))}</svg>
    </button>
  );
  return (
    <li ref={setNodeRef} className={className} data-dragged={isDragging} {...data} style={{ transform: CSS.Translate.toString(transform), transition }}>
      {children(grip)}
    </li>
  );
}
