/** ln(p / (1 - p)); -Infinity at 0 and Infinity at 1. */
export function logit(p: number): number {
  return Math.log(p) - Math.log1p(-p);
}

/** 1 / (1 + e^-x): the probability whose logit is x, without loss of small ones. */
export function inverseLogit(x: number): number {
  if (x >= 0) return 1 / (1 + Math.exp(-x));
  const odds = Math.exp(x);
  return odds / (1 + odds);
}

/** ln(1 + e^x), without overflow. */
export function logOnePlusExp(x: number): number {
  return x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x));
}
