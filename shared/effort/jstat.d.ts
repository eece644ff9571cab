/** Owns the little of jStat that the tests hold effort against; it brings no types. */
declare module 'jstat' {
  const jstat: {
    /** Standard deviation; of the sample where the second is true. */
    readonly stdev: (values: number[], sample?: boolean) => number;
    readonly chisquare: { readonly inv: (p: number, freedom: number) => number };
  };
  export default jstat;
}
