/**
 * Owns finding every route of the real server: what it gives to Express is noted while it is put together, so that
 * no list has to be kept. Call `noteRoutes` before the server starts.
 */
import { Router } from 'express';

interface Place { readonly routes: { readonly path: string; readonly methods: () => readonly string[] }[]; readonly below: { readonly path: string; readonly router: object }[] }
type Any = (this: object, ...args: unknown[]) => unknown;

const flat = (of: unknown): unknown[] => (Array.isArray(of) ? of.flatMap(flat) : [of]);
const paths = (of: unknown): string[] => flat(of).filter((p): p is string => typeof p === 'string');

/** Gives a function that lists "GET /api/plans/{id}" of all routes below the router that has `own`; and one that stops noting. */
export function noteRoutes(): { readonly found: (own: string) => string[]; readonly stop: () => void } {
  const places = new Map<object, Place>();
  const of = (router: object): Place => {
    const known = places.get(router) ?? { routes: [], below: [] };
    places.set(router, known);
    return known;
  };
  const proto = (Router as unknown as { prototype: { use: Any; route: Any } }).prototype;
  const before = { use: proto.use, route: proto.route };
  proto.use = function use(...args) {
    const at = paths(args[0]);
    for (const handler of flat(args)) if (typeof handler === 'function' && 'stack' in handler) for (const path of at.length > 0 ? at : ['/']) of(this).below.push({ path, router: handler });
    return before.use.apply(this, args);
  };
  proto.route = function route(...args) {
    const made = before.route.apply(this, args) as { methods: Record<string, boolean> };
    for (const path of paths(args[0])) of(this).routes.push({ path, methods: () => Object.keys(made.methods) });
    return made;
  };
  const join = (a: string, b: string): string => `${a}/${b}`.replace(/\/+/g, '/').replace(/(.)\/$/, '$1');
  const walk = (router: object, at: string): string[] => [
    ...of(router).routes.flatMap(({ path, methods }) => methods().map((m) => `${m.toUpperCase()} ${join(at, path).replace(/:(\w+)/g, '{$1}')}`)),
    ...of(router).below.flatMap(({ path, router: next }) => walk(next, join(at, path))),
  ];
  return {
    found: (own) => {
      const top = [...places].find(([, place]) => place.routes.some((r) => r.path === own))?.[0];
      return top ? [...new Set(walk(top, ''))].sort() : [];
    },
    stop: () => { Object.assign(proto, before); },
  };
}
