const key = "leafledger.who";

/** The name that was last given on this device, or null. */
export const rememberedName = (storage: Storage): string | null => {
  const kept = storage.getItem(key);
  return kept === null ? null : (JSON.parse(kept) as { name: string }).name;
};

export const rememberName = (storage: Storage, name: string): void => storage.setItem(key, JSON.stringify({ name }));

export const forgetName = (storage: Storage): void => storage.removeItem(key);
