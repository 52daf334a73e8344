export const load = async (): Promise<string> => (await import('../knowledge/good.js')).grainOf('frost');
