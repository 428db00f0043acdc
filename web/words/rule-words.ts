import type { DecisionRule } from "../../src/core/limits/verdict.ts";

/** A decision rule in words. */
export function ruleWords(rule: DecisionRule): string {
  switch (rule.kind) {
    case "simple":
      return "simple acceptance";
    case "guard":
      return `guard band (${rule.r} times the expanded uncertainty)`;
    case "nonbinary":
      return `non-binary statement with guard band (${rule.r} times the expanded uncertainty)`;
  }
}
