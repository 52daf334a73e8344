/** Usage, input, settings or knowledge that a person can mend: one clear line, exit code 2. */
export class UsageProblem extends Error {}
