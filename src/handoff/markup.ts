/** HTML as text. Every word is escaped on its way in; signs that could turn a line round or hide are left out. */
import { shown } from '../message/shown.js';
import { escaped } from '../pictures/svg.js';

/** Markup that is safe already, so that it is never mistaken for words. */
export interface Markup {
  readonly html: string;
}

type Content = string | Markup | null | readonly Content[];

export const words = (text: string): Markup => ({ html: escaped(shown(text)) });
export const trusted = (html: string): Markup => ({ html });

/** An element with its content; words are escaped, nothing at all is left out. */
export function tag(name: string, attributes: Readonly<Record<string, string>>, ...content: Content[]): Markup {
  const written = Object.entries(attributes).map(([key, value]) => ` ${key}="${words(value).html}"`);
  return { html: `<${name}${written.join('')}>${inner(content)}</${name}>` };
}

function inner(content: Content): string {
  if (content === null) return '';
  if (typeof content === 'string') return words(content).html;
  if ('html' in content) return content.html;
  return content.map(inner).join('');
}
