// What a room builds once from the knowledge folder and keeps is built before the first test, so that a fault in it meets
// all tests and not only the one that came first.
import { modelOf } from '../src/diagnosis/model.ts';
import { listen } from '../src/safety/listen.ts';
import { realKnowledge } from './knowledge.mjs';

const rooms = {
  safety: () => listen(realKnowledge(), '', 'homeowner'),
  diagnosis: () => modelOf(realKnowledge()),
};
try {
  rooms[process.env['THAWLINE_MUTATE'] ?? 'safety']?.();
} catch {
  // the tests meet it too; thrown here it would leave no test to fail
}
