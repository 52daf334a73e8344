/** Who speaks for a part of a chat server: one process a shard, all shards on one store. */
import { expect, it } from 'vitest';
import { shardsHere } from '../../src/commands/shards.js';
import { openStore } from '../../src/store/store.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();
const at = (second: number): string => new Date(Date.UTC(2026, 2, 2, 18, 0, second)).toISOString();
const isGone = (holder: string): boolean => holder === 'killed';

it('a shard has one holder until its time is over, it gives back, or it is gone', () => {
  const { leases, close } = openStore(newFile());
  const take = (holder: string, second: number, shard = '0'): string | null =>
    leases.take(shard, holder, at(second), at(second + 30), isGone);
  expect(take('a', 0)).toBeNull();
  expect(take('b', 10)).toBe('a');
  expect(take('a', 20)).toBeNull();
  expect(take('b', 45)).toBe('a');
  expect(take('b', 50)).toBeNull();
  leases.giveBack('0', 'a');
  expect(take('a', 51)).toBe('b');
  leases.giveBack('0', 'b');
  expect(take('killed', 52)).toBeNull();
  expect(take('a', 53)).toBeNull();
  close();
});

it('the processes of a sharding manager hold a shard each, on one store', () => {
  const path = newFile();
  // what discord.js's manager puts into the environment of each process
  const processes = ['0', '[1]'].map((SHARDS) => shardsHere({ SHARDS, SHARD_COUNT: '2' }));
  expect(processes).toEqual([
    { shards: [0], shardCount: 2 },
    { shards: [1], shardCount: 2 },
  ]);
  expect(shardsHere({})).toEqual({ shards: [0], shardCount: 1 });
  const stores = processes.map(() => openStore(path));
  const taken = processes.flatMap(({ shards }, n) =>
    shards.map((shard) => stores[n]?.leases.take(String(shard), `process-${n}`, at(0), at(30), isGone)),
  );
  expect(taken).toEqual([null, null]);
  expect(stores[1]?.leases.take('0', 'process-1', at(1), at(31), isGone)).toBe('process-0');
  for (const store of stores) store.close();
});
