/** Owns the way between the two pages of all houses. */
const pages = [['now', '/desk/all', 'Now'], ['review', '/desk/all?review', 'Review']] as const;

export const AllNav = ({ here }: { here: (typeof pages)[number][0] }) => (
  <nav className="spans all-nav" aria-label="All houses">
    {pages.map(([id, address, words]) => <a key={id} className="control" href={address} aria-current={id === here ? 'page' : undefined}>{words}</a>)}
  </nav>
);
