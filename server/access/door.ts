/** By which names this server is called, whether other devices can reach it, and how safely. */
export interface Door {
  /** Names a request may ask for, as in its Host header without the port; the first stands in addresses for other devices. */
  readonly names: readonly string[];
  readonly shared: boolean;
  readonly secure: boolean;
  /** What every page says when other devices reach the server without HTTPS. */
  readonly insecure: string | null;
}

const loopbackNames = ["localhost", "127.0.0.1", "[::1]"];

/** Open to this very computer alone. */
export const ownDoor: Door = { names: loopbackNames, shared: false, secure: false, insecure: null };

/** Open to other devices under these names as well. */
export const sharedDoor = (names: readonly string[], secure: boolean): Door => ({
  names: [...names, ...loopbackNames],
  shared: true,
  secure,
  insecure: secure
    ? null
    : "This page is not encrypted: anybody on this network can read along and act in your name. Start Leafledger with --cert.",
});
