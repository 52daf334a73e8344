export * from '../knowledge/good.js';
