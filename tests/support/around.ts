/** The surroundings of conversations that talk to nobody: no pages, no greeting, and any trouble is a failure. */
import type { Conversations } from '../../src/conversation.js';

export const around = (channel: string): ConstructorParameters<typeof Conversations>[2] => ({
  channel,
  contact: null,
  units: null,
  greeted: false,
  pagePath: () => null,
  writePage: () => undefined,
  onTrouble: (_, error) => {
    throw error;
  },
});
