/** Which shards this process serves: all of one, or those that a sharding manager gave it. */
export interface ShardsHere {
  readonly shards: readonly number[];
  readonly shardCount: number;
}

/** A sharding manager names them in SHARDS and SHARD_COUNT. */
export function shardsHere(environment: Readonly<Record<string, string | undefined>>): ShardsHere {
  const given: unknown = environment['SHARDS'] ? JSON.parse(environment['SHARDS']) : 0;
  const shards = [given].flat().map(Number);
  return { shards, shardCount: Number(environment['SHARD_COUNT'] ?? 1) };
}
