/** Owns the way between the desk's pages. */
const pages = [['/desk', 'Log'], ['/desk/plans', 'Plans'], ['/desk/timetable', 'Timetable'], ['/desk?now', 'Now'], ['/desk?review', 'Review'], ['/desk?devices', 'Devices']] as const;

export function DeskNav({ here }: { here: (typeof pages)[number][0] | null }) {
  return (
    <nav className="desk-nav" aria-label="Desk">
      {pages.map(([address, words]) => <a key={address} href={address} aria-current={address === here ? 'page' : undefined}>{words}</a>)}
    </nav>
  );
}
