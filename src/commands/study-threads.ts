/** Threads that do the pieces of a study side by side: each takes the next piece that waits. */
import { Worker } from 'node:worker_threads';
import type { Workshop } from '../study/course.js';
import type { Job } from '../study/jobs.js';

interface Waiting {
  readonly job: Job;
  readonly done: (result: unknown) => void;
  readonly failed: (error: unknown) => void;
}
type Told = { readonly share: number } | { readonly result: unknown };

/** `seen` is told each share of a piece that is done. `end` stops the threads. */
export function threads(
  count: number,
  given: { readonly overlay: string | null; readonly seed: number },
  seen: (share: number) => void,
): { readonly workshop: Workshop; readonly end: () => Promise<void> } {
  const waiting: Waiting[] = [];
  const free: Worker[] = [];
  const all = Array.from({ length: count }, () => {
    const worker = new Worker(new URL('./study-worker.js', import.meta.url), { workerData: given });
    free.push(worker);
    return worker;
  });
  const next = (): void => {
    const worker = waiting.length > 0 ? free.pop() : undefined;
    const piece = worker && waiting.shift();
    if (!worker || !piece) return;
    const failed = (error: unknown): void => piece.failed(error);
    const told = (message: Told): void => {
      if ('share' in message) return seen(message.share);
      worker.off('message', told);
      worker.off('error', failed);
      free.push(worker);
      piece.done(message.result);
      next();
    };
    worker.on('message', told);
    worker.on('error', failed);
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
    worker.postMessage(piece.job);
  };
  const one = (job: Job): Promise<unknown> =>
    new Promise((done, failed) => {
      waiting.push({ job, done, failed });
      next();
    });
  return {
    workshop: ((jobs) => Promise.all(jobs.map(one))) as Workshop,
    end: async () => {
      await Promise.all(all.map((worker) => worker.terminate()));
    },
  };
}
