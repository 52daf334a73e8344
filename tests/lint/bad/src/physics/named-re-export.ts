export { grainOf } from '../knowledge/good.js';
