const wait = async (): Promise<void> => {};
export const go = (): void => {
  wait();
};
