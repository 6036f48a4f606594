/** The part of the statistics library that the tests compare with; it brings no types of its own. */
declare module 'jstat' {
  interface Distribution<Arguments extends number[]> {
    pdf(x: number, ...parameters: Arguments): number;
    cdf(x: number, ...parameters: Arguments): number;
    inv(p: number, ...parameters: Arguments): number;
  }
  const jStat: {
    readonly gamma: Distribution<[shape: number, scale: number]>;
    readonly beta: Distribution<[a: number, b: number]>;
    readonly studentt: Distribution<[degrees: number]>;
    readonly lognormal: Distribution<[mu: number, sigma: number]>;
    readonly binomial: Distribution<[tries: number, chance: number]>;
    readonly poisson: Distribution<[mean: number]>;
    readonly negbin: Distribution<[successes: number, chance: number]>;
  };
  export default jStat;
}
