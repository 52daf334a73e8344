import '../knowledge/good.js';
