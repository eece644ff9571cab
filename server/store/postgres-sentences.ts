/**
 * Owns what is asked of the log in PostgreSQL's words. $1 is the studio in each sentence: the first
 * of the two walls between studios (shape.ts has the second). Leaves alone who asks (postgres.ts).
 */

/** Names with capitals quoted. */
export const q = (sql: string): string => sql.replace(/\b[a-z]+[A-Z]\w*\b/g, '"$&"');
const FAR = `SELECT s.number, s.id, s.startedAt, s.endedAt, (SELECT coalesce(max(seq), 0) FROM events WHERE studio = $1 AND session = s.id) AS seq,
  (SELECT command FROM events WHERE studio = $1 AND session = s.id ORDER BY seq DESC LIMIT 1) AS last, (SELECT coalesce(sum(n), 0) FROM answers WHERE studio = $1 AND session = s.id) AS answers FROM sessions s WHERE s.studio = $1`;
export const sentence = {
  upsert: q(`INSERT INTO sessions (studio, id, room, plan, name, startedAt, endedAt, how, headCount) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)
    ON CONFLICT (studio, id) DO UPDATE SET endedAt = excluded.endedAt, how = excluded.how, headCount = excluded.headCount`),
  insert: `INSERT INTO events (studio, session, seq, command, part, event)
    SELECT $1, $2, $3::bigint + part - 1, $4, part - 1, event FROM unnest($5::text[]) WITH ORDINALITY AS given (event, part)`,
  known: `SELECT (SELECT id FROM sessions WHERE studio = $1 AND room = $2 ORDER BY number DESC LIMIT 1) AS newest,
    (SELECT coalesce(max(seq), 0) FROM events WHERE studio = $1 AND session = $3) AS seq`,
  rows: 'SELECT seq, command, event FROM events WHERE studio = $1 AND session = $2 AND seq > $3 ORDER BY seq',
  latest: `SELECT seq, command, event FROM (SELECT id FROM sessions WHERE studio = $1 AND room = $2 ORDER BY number DESC LIMIT 1) AS newest
    JOIN events ON studio = $1 AND session = id AND seq > CASE WHEN id = $3::text THEN $4::bigint ELSE 0 END ORDER BY seq`,
  /** Waits for whoever writes to this class. */
  behind: 'SELECT 1 FROM sessions WHERE studio = $1 AND id = $2 FOR SHARE',
  close: q('UPDATE sessions SET endedAt = $3, how = $4, headCount = $5 WHERE studio = $1 AND id = $2'),
  page: q('SELECT number, id, room, plan, name, startedAt, endedAt, how, headCount FROM sessions WHERE studio = $1 AND number < $2 ORDER BY number DESC LIMIT $3'),
  stamps: q(`SELECT s.number, s.id, s.endedAt, s.headCount, coalesce(sum(a.n), 0) AS answers, coalesce(sum(a.n * a.rating), 0) AS ratingSum
    FROM sessions s LEFT JOIN answers a ON a.studio = s.studio AND a.session = s.id
    WHERE s.studio = $1 AND s.number > $2 AND s.endedAt IS NOT NULL GROUP BY s.number ORDER BY s.number LIMIT $3`),
  since: q(`${FAR} AND s.number > $2 ORDER BY s.number LIMIT $3`),
  far: q(`${FAR} AND s.id = ANY($2)`),
  summary: q('SELECT id, room, plan, name, startedAt, endedAt, how, headCount FROM sessions WHERE studio = $1 AND id = $2'),
  answer: 'INSERT INTO answers (studio, session, rating, n) VALUES ($1, $2, $3, 1) ON CONFLICT (studio, session, rating) DO UPDATE SET n = answers.n + 1',
  answersAtLeast: `INSERT INTO answers (studio, session, rating, n) SELECT $1, $2, * FROM unnest($3::bigint[], $4::bigint[])
    ON CONFLICT (studio, session, rating) DO UPDATE SET n = greatest(answers.n, excluded.n)`,
  answers: 'SELECT rating, n FROM answers WHERE studio = $1 AND session = $2',
  remove: `WITH a AS (DELETE FROM answers WHERE studio = $1 AND session = ANY($2)), e AS (DELETE FROM events WHERE studio = $1 AND session = ANY($2))
    DELETE FROM sessions WHERE studio = $1 AND id = ANY($2)`,
  old: q('SELECT id FROM sessions WHERE studio = $1 AND endedAt IS NOT NULL AND endedAt < $2 ORDER BY number LIMIT $3'),
  newest: 'SELECT id, (SELECT coalesce(max(seq), 0) FROM events WHERE studio = $1 AND session = id) AS seq FROM sessions WHERE studio = $1 ORDER BY number DESC LIMIT $2',
  phones: q('SELECT token, room, pairedAt FROM phones WHERE studio = $1'),
  pair: q('INSERT INTO phones (studio, token, room, pairedAt) VALUES ($1, $2, $3, $4) ON CONFLICT (studio, token, room) DO UPDATE SET pairedAt = excluded.pairedAt'),
  unpair: 'DELETE FROM phones WHERE studio = $1 AND token = $2',
  mark: q('SELECT bootId, offsetMs FROM time WHERE studio = $1'),
  setMark: q('INSERT INTO time (studio, one, bootId, offsetMs) VALUES ($1, 1, $2, $3) ON CONFLICT (studio, one) DO UPDATE SET bootId = excluded.bootId, offsetMs = excluded.offsetMs'),
  healthy: 'INSERT INTO health (studio, one, asked) VALUES ($1, 1, 1) ON CONFLICT (studio, one) DO UPDATE SET asked = health.asked + 1',
} as const;
export type Sentence = keyof typeof sentence;
