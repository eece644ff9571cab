/** Owns the list of rooms that a phone serves. */
import { expect, it } from 'vitest';
import { othersOf, withRoom, withoutRoom } from './rooms.ts';

const room = (id: string, name: string, pattern = 0) => ({ id, name, pattern });

it('R132 a phone keeps each room it was paired with once, as it was last seen, and offers the others by name', () => {
  const list = [room('yard', 'Yard'), room('garden', 'Garden'), room('attic', 'Attic')];
  expect(withRoom(list, room('garden', 'Garden room', 3)).filter((r) => r.id === 'garden')).toEqual([room('garden', 'Garden room', 3)]);
  expect(othersOf(list, 'garden').map((r) => r.name)).toEqual(['Attic', 'Yard']);
  expect(withoutRoom(list, 'yard').map((r) => r.id)).toEqual(['garden', 'attic']);
  const many = Array.from({ length: 20 }, (_, i) => i).reduce<ReturnType<typeof room>[]>((l, i) => withRoom(l, room(`r${i}`, 'R')), []);
  expect(many).toHaveLength(12);
});
