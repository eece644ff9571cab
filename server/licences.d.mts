export interface Licence { readonly name: string; readonly version: string; readonly licence: string; readonly tool: boolean; readonly may: boolean }
/** Reads the lock and each package's own words where they are left out. */
export function licences(lock?: { packages: Record<string, unknown> }, read?: (path: string) => unknown): Licence[];
