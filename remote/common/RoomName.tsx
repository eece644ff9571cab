/** Owns the room's name at the top of every page of the phone; a long one is set smaller before it is broken. */
const LONG = 16;

export const RoomName = ({ name }: { name: string }) => <h1 className="room-name" data-long={name.length > LONG}>{name}</h1>;
