const keyOf = (delivery: string, leaf: string) => `leafledger.waved ${delivery} ${leaf}`;

/** Proposals that a person looked at on this device and found nothing: places as "face x y". Not part of the ledger. */
export const readWavedOff = (storage: Storage, delivery: string, leaf: string): readonly string[] =>
  JSON.parse(storage.getItem(keyOf(delivery, leaf)) ?? "[]");

export const waveOff = (storage: Storage, delivery: string, leaf: string, place: string): readonly string[] => {
  const places = [...new Set([...readWavedOff(storage, delivery, leaf), place])];
  storage.setItem(keyOf(delivery, leaf), JSON.stringify(places));
  return places;
};
