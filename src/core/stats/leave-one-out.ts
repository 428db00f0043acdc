import { type PooledEffect, type PoolingMethod, poolEffects } from "./pool-effects.ts";
import { checkEffects, type StudyEffect } from "./study.ts";

/**
 * The studies pooled again without each of them in turn, to show whether one alone carries the result.
 *
 * Source: Viechtbauer W, Cheung M W-L (2010) Res Synth Methods 1:112-125, section 3.
 *
 * @returns in the order of `effects`; null where no study is left
 * @throws RangeError for no effects, a variance that is not above 0, or a level outside (0, 1)
 */
export function leaveOneOut(
  effects: readonly StudyEffect[],
  method: PoolingMethod,
  level: number,
): (PooledEffect | null)[] {
  checkEffects(effects);
  return effects.map((_, left) => {
    const rest = effects.filter((_effect, index) => index !== left);
    return rest.length === 0 ? null : poolEffects(rest, method, level);
  });
}
