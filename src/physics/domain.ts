// Where a formula ends: the one place that refuses an argument outside a formula's domain.
// Such a call is a mistake in the program, so it throws; what a person may type is answered by units.ts.

/**
 * Refuses an argument that its formula has no answer for.
 * @returns the value itself
 * @throws RangeError when the value is not finite, or not from `low` to `high` (both allowed)
 */
export function within(name: string, value: number, low: number, high: number): number {
  if (Number.isFinite(value) && value >= low && value <= high) return value;
  throw new RangeError(`${name} is ${value}; expected a number from ${low} to ${high}`);
}

/**
 * Refuses an argument that is not a finite number above zero.
 * @returns the value itself
 * @throws RangeError
 */
export function positive(name: string, value: number): number {
  if (Number.isFinite(value) && value > 0) return value;
  throw new RangeError(`${name} is ${value}; expected a finite number above 0`);
}
