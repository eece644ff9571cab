/** Owns the types of nosleep.js, which brings none; as far as they are used here. */
declare module 'nosleep.js' {
  export default class NoSleep {
    readonly isEnabled: boolean;
    /** From a touch only. */
    enable(): Promise<unknown>;
    disable(): void;
  }
}
