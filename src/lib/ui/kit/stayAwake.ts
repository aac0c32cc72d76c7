/**
 * Keeps the screen awake while a place is used at the instrument, where no hand is free to touch it
 * (Screen Wake Lock). Browsers without it, or that refuse, let the screen sleep as usual.
 */

/** How long after the last touch a player is still taken to be playing. */
const AFTER_MS = 3 * 60 * 1000;

export class StayAwake {
  #lock: WakeLockSentinel | undefined;
  #asked = false;
  #end: ReturnType<typeof setTimeout> | undefined;
  readonly #seenAgain = (): void => {
    if (document.visibilityState === 'visible') void this.#take();
  };

  /** Something was just touched or played: awake from now on, and for a while after. */
  use(): void {
    if (this.#end === undefined) document.addEventListener('visibilitychange', this.#seenAgain);
    clearTimeout(this.#end);
    this.#end = setTimeout(() => this.release(), AFTER_MS);
    void this.#take();
  }

  release(): void {
    if (this.#end === undefined) return;
    clearTimeout(this.#end);
    this.#end = undefined;
    document.removeEventListener('visibilitychange', this.#seenAgain);
    void this.#lock?.release();
    this.#lock = undefined;
  }

  async #take(): Promise<void> {
    // absent on addresses that are not secure
    const wakeLock = (navigator as { wakeLock?: WakeLock }).wakeLock;
    // the browser releases it by itself when the page goes out of sight
    if (wakeLock === undefined || this.#asked || this.#lock?.released === false) return;
    this.#asked = true;
    const lock = await wakeLock.request('screen').catch(() => undefined);
    this.#asked = false;
    if (this.#end === undefined) void lock?.release();
    else this.#lock = lock;
  }
}
