export { LINT_RULES, lintCatalogue, printLintFault } from './lint-catalogue.ts';
export type { LintData, LintFault, LintRule } from './lint-rule.ts';
