/** A question as buttons, or as a menu where there are too many; always "not sure" and always a way to a person. */
import {
  ButtonStyle,
  ComponentType,
  type APIActionRowComponent,
  type APIButtonComponent,
  type APIComponentInMessageActionRow,
} from 'discord.js';
import type { Words } from '../../knowledge/facts.js';
import type { Asked } from './body.js';
import type { Front } from './front.js';
import { idOf, type Tap } from './ids.js';

export type Row = APIActionRowComponent<APIComponentInMessageActionRow>;

const MOST_BUTTONS = 5;
const MOST_OPTIONS = 25;
const LONGEST_LABEL = 80;
const LONGEST_OPTION = 100;
const NOT_SURE = 'not-sure';

export type Style = ButtonStyle.Primary | ButtonStyle.Secondary | ButtonStyle.Success | ButtonStyle.Danger;

export const button = (label: string, tap: Tap, style: Style = ButtonStyle.Secondary): APIButtonComponent => ({
  type: ComponentType.Button,
  style,
  label: short(label, LONGEST_LABEL),
  custom_id: idOf(tap),
});

export const rowOf = (...components: APIComponentInMessageActionRow[]): Row => ({
  type: ComponentType.ActionRow,
  components,
});

export const short = (text: string, most: number): string =>
  text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;

/**
 * @param post the post that will carry them
 * @param room the conversation
 * @param handedOver a person has been asked for already
 */
export function rowsFor(
  { say }: Pick<Front, 'say'>,
  words: Words,
  asked: Asked,
  post: string,
  room: string,
  handedOver: boolean,
): Row[] {
  const own: APIButtonComponent[] = [button(say(words, 'discord.write'), { does: 'write', place: room })];
  if (asked && (asked.finding ?? asked.reading)) own.push(button(say(words, 'discord.why'), { does: 'why', post }));
  if (!handedOver) own.push(button(say(words, 'discord.person'), { does: 'person', place: room }));
  if (!asked) return [rowOf(...own)];
  const measure: APIButtonComponent[] = asked.reading?.endsWith('.continuity')
    ? []
    : asked.reading
      ? [button(say(words, 'discord.measure'), { does: 'measure', post }, ButtonStyle.Primary)]
      : [];
  const choices = asked.choices;
  if (!asked.many && choices.length + measure.length <= MOST_BUTTONS) {
    const answers = choices.map(({ label, value }, index) =>
      button(label, { does: 'choose', post, index }, value === NOT_SURE ? ButtonStyle.Secondary : ButtonStyle.Primary),
    );
    return [rowOf(...measure, ...answers), rowOf(...own)];
  }
  const notSure = choices.find((c) => c.value === NOT_SURE);
  const options = choices.filter((c) => c.value !== NOT_SURE).slice(0, MOST_OPTIONS);
  const menu: Row = {
    type: ComponentType.ActionRow,
    components: [
      {
        type: ComponentType.StringSelect,
        custom_id: idOf({ does: 'menu', post }),
        placeholder: say(words, asked.many ? 'discord.pick.many' : 'discord.pick'),
        min_values: 1,
        max_values: asked.many ? options.length : 1,
        options: options.map(({ value, label }) => ({ value, label: short(label, LONGEST_OPTION) })),
      },
    ],
  };
  const beside = notSure ? [button(notSure.label, { does: 'not-sure', post })] : [];
  return [menu, rowOf(...measure, ...beside, ...own)];
}
