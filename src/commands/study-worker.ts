/** One of those who do the pieces of a study, on a thread of its own. */
import { parentPort, workerData } from 'node:worker_threads';
import { doJob, type Job } from '../study/jobs.js';
import { loadFolder } from './knowledge-folder.js';

const { overlay, seed } = workerData as { readonly overlay: string | null; readonly seed: number };
const knowledge = loadFolder(overlay);

// oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
const tell = (message: unknown): void => parentPort?.postMessage(message);

parentPort?.on('message', (job: Job) => tell({ result: doJob(knowledge, seed, job, (share) => tell({ share })) }));
