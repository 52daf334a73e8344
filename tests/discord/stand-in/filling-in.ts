// What a person may put into a select or a form: as many choices as it takes, texts as long as it allows. It sends nothing.

import type { Part } from './said.js';

/** @throws Error where a select does not take so many values, or does not offer them */
export function refuseChoice(select: Part, values: readonly string[]): void {
  const least = select.min_values ?? 1;
  const most = select.max_values ?? 1;
  if (values.length < least || values.length > most) {
    throw new Error(`'${select.custom_id}' takes ${least} to ${most} values, not ${values.length}.`);
  }
  if (select.type !== 3) return;
  const offered = (select.options ?? []).map((o) => o.value);
  const wrong = values.find((v) => !offered.includes(v));
  if (wrong !== undefined)
    throw new Error(`'${select.custom_id}' does not offer '${wrong}', but: ${offered.join(', ')}`);
}

/** A part of a form with what the person put in; rows and labels keep their shape, texts shown are left out. */
export function filled(part: Part, fields: Readonly<Record<string, string | readonly string[]>>): object {
  const { type, id = 0 } = part;
  if (part.components !== undefined) return { type, id, components: part.components.map((p) => filled(p, fields)) };
  if (part.component !== undefined) return { type, id, component: filled(part.component, fields) };
  const custom = part.custom_id;
  if (custom === undefined) return { type, id };
  const field = fields[custom];
  if (type === 4) {
    const value = typeof field === 'string' ? field : (part.value ?? '');
    const least = part.required === false && value === '' ? 0 : Math.max(part.min_length ?? 1, 1);
    const most = part.max_length ?? 4000;
    if (value.length < least || value.length > most) {
      throw new Error(`The field '${custom}' takes ${least} to ${most} characters, not ${value.length}.`);
    }
    return { type, id, custom_id: custom, value };
  }
  const values = typeof field === 'string' ? [field] : (field ?? []);
  if (values.length > 0 || part.required !== false) refuseChoice(part, values);
  return { type, id, custom_id: custom, values };
}
