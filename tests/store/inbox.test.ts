/** Taps of a chat server on their way from being heard to being done. */
import { expect, it } from 'vitest';
import { openStore } from '../../src/store/store.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();
const AT = '2026-03-02T18:30:00.000Z';
const tap = (id: string) => ({ id, person: 'u1', body: `{"id":"${id}"}` });

it('is kept until it is done, and known again however often it is told', () => {
  const path = newFile();
  const before = openStore(path);
  expect([...before.inbox.keep([tap('1'), tap('2'), tap('1')], AT)]).toEqual(['1', '2']);
  expect([...before.inbox.keep([tap('2'), tap('3')], AT)]).toEqual(['3']);
  before.inbox.done('2');
  before.close();
  const after = openStore(path);
  expect(after.inbox.undone().map((t) => t.id)).toEqual(['1', '3']);
  expect(after.inbox.keep([tap('2')], AT).size).toBe(0);
  after.inbox.beginAgain('3');
  expect(after.inbox.undone().map((t) => t.starts)).toEqual([0, 1]);
  after.close();
});

it('is forgotten some time after it was done, and not before', () => {
  const store = openStore(newFile());
  store.inbox.keep([tap('1'), tap('2')], AT);
  store.inbox.done('1');
  store.inbox.forget(AT);
  expect(store.inbox.keep([tap('1')], AT).size).toBe(0);
  store.inbox.forget('2026-03-02T18:30:00.001Z');
  expect(store.inbox.keep([tap('1')], AT).size).toBe(1);
  expect(store.inbox.undone().map((t) => t.id)).toEqual(['1', '2']);
  store.close();
});
