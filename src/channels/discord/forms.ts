/** The forms that a button opens: words, a number with its unit, and what the desk writes. Their fields in, too. */
import {
  ComponentType,
  InteractionResponseType,
  TextInputStyle,
  type APIInteractionResponse,
  type APILabelComponent,
  type APIModalInteractionResponseCallbackData,
} from 'discord.js';
import type { Words } from '../../knowledge/facts.js';
import type { Front } from './front.js';
import { idOf, type Tap } from './ids.js';
import { short } from './question.js';

const LONGEST_TITLE = 45;
const LONGEST_LABEL = 45;
const LONGEST_HINT = 100;
const LONGEST_TEXT = 4000;
const LONGEST_NUMBER = 60;
const LONGEST_DESK_TEXT = 1000;

type Fields = APIModalInteractionResponseCallbackData['components'];

const form = (tap: Tap, title: string, components: Fields): APIInteractionResponse => ({
  type: InteractionResponseType.Modal,
  data: { custom_id: idOf(tap), title: short(title, LONGEST_TITLE), components },
});

function field(
  id: string,
  label: string,
  { hint, long = false, required = true, most }: { hint?: string; long?: boolean; required?: boolean; most: number },
): APILabelComponent {
  return {
    type: ComponentType.Label,
    label: short(label, LONGEST_LABEL),
    component: {
      type: ComponentType.TextInput,
      custom_id: id,
      style: long ? TextInputStyle.Paragraph : TextInputStyle.Short,
      required,
      min_length: required ? 1 : 0,
      max_length: most,
      ...(hint === undefined ? {} : { placeholder: short(hint, LONGEST_HINT) }),
    },
  };
}

const menu = (id: string, label: string, options: readonly { value: string; label: string }[]): APILabelComponent => ({
  type: ComponentType.Label,
  label: short(label, LONGEST_LABEL),
  component: {
    type: ComponentType.StringSelect,
    custom_id: id,
    required: true,
    options: options.map(({ value, label: text }) => ({ value, label: short(text, LONGEST_HINT) })),
  },
});

export function openForm({ say }: Front, words: Words, place: string): APIInteractionResponse {
  return form({ does: 'open', place }, say(words, 'discord.form.open'), [
    field('text', say(words, 'discord.form.open.label'), {
      hint: say(words, 'discord.form.open.hint'),
      long: true,
      most: LONGEST_TEXT,
    }),
  ]);
}

export function writeForm({ say }: Front, words: Words, room: string): APIInteractionResponse {
  return form({ does: 'write', place: room }, say(words, 'discord.form.write'), [
    field('text', say(words, 'discord.form.write.label'), { long: true, most: LONGEST_TEXT }),
  ]);
}

export function measureForm(
  { say, knowledge }: Front,
  words: Words,
  post: string,
  reading: string,
): APIInteractionResponse {
  const step = knowledge.readings.get(reading);
  const title = step?.name[words] ?? say(words, 'discord.form.measure');
  return form({ does: 'measure', post }, title, [
    field('value', say(words, 'discord.form.measure.value'), {
      ...(step ? { hint: say(words, `discord.hint.${step.quantity}`) } : {}),
      most: LONGEST_NUMBER,
    }),
    field('at', say(words, 'discord.form.measure.at'), {
      hint: say(words, 'discord.form.measure.at.hint'),
      required: false,
      most: LONGEST_NUMBER,
    }),
  ]);
}

const DESK: Words = 'technician';

export function deskForm(
  { say }: Front,
  caseId: string,
  act: 'ask' | 'hand-back' | 'close' | 'clear',
  options: readonly { value: string; label: string }[],
): APIInteractionResponse {
  const t = (key: string): string => say(DESK, key);
  const most = LONGEST_DESK_TEXT;
  const fields: Record<typeof act, () => Fields> = {
    ask: () => [field('text', t('discord.desk.form.ask.label'), { long: true, most })],
    'hand-back': () => [field('text', t('discord.desk.form.hand-back.label'), { long: true, required: false, most })],
    clear: () => [menu('hazard', t('discord.desk.form.clear.label'), options)],
    close: () => [
      menu('cause', t('discord.desk.form.close.cause'), options),
      field('fixed', t('discord.desk.form.close.fixed'), { required: false, most }),
      field('parts', t('discord.desk.form.close.parts'), { required: false, most }),
    ],
  };
  return form({ does: 'desk', caseId, act }, t(`discord.desk.form.${act}`), fields[act]());
}

/** The fields of a form that came back, by their ids; a menu gives the first of what was chosen. */
export function fieldsOf(components: readonly unknown[]): Record<string, string> {
  const out: Record<string, string> = {};
  for (const each of components as readonly Submitted[])
    for (const part of each.component ? [each.component] : (each.components ?? [])) {
      const value = part.values?.[0] ?? part.value;
      const id = part.customId ?? part.custom_id;
      if (id !== undefined && typeof value === 'string') out[id] = value.trim();
    }
  return out;
}

interface Submitted {
  readonly component?: Field;
  readonly components?: readonly Field[];
}
interface Field {
  readonly customId?: string;
  readonly custom_id?: string;
  readonly value?: string;
  readonly values?: readonly string[];
}
