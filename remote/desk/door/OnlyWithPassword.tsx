/** Owns asking for the desk's password once more: a phone comes in at the desk without it, but lets no other phone go and looks over no other house. */
import { deskBodySchema } from '../../../shared/wire/desk.ts';
import { ask } from '../../common/get.ts';

export const OnlyWithPassword = () => (
  <form className="by-password" onSubmit={(event) => {
    event.preventDefault();
    void ask('/api/desk/in', deskBodySchema, { password: String(new FormData(event.currentTarget).get('password') ?? '') }).then(() => window.location.reload());
  }}
  >
    <label htmlFor="password">Password of the desk</label>
    <input id="password" name="password" type="password" autoComplete="current-password" required />
    <button type="submit" className="control" data-pressed="true">Come in</button>
  </form>
);
