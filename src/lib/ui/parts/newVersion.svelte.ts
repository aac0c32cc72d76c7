/** The program saved on the device, and a newer version of it when there is one. */

import { TAKE_OVER } from './takeOver';

/** How often a page that stays open looks for a newer version. */
const EVERY_MS = 60 * 60 * 1000;

export class NewVersion {
  #waiting = $state.raw<ServiceWorker | undefined>();
  #later = $state(false);
  #taken = false;

  /** A newer version is there, and the player has not put it off. */
  readonly offered = $derived(this.#waiting !== undefined && !this.#later);

  /**
   * Has the program saved by the worker at an address. Where that cannot be (a browser without it, an
   * address that is not secure) everything works as long as there is a network.
   */
  async keep(address: string): Promise<void> {
    // absent on addresses that are not secure
    const workers = (navigator as { serviceWorker?: ServiceWorkerContainer }).serviceWorker;
    if (workers === undefined) return;
    workers.addEventListener('controllerchange', () => {
      if (this.#taken) location.reload();
    });
    try {
      const registration = await workers.register(address, { type: 'module' });
      this.#watch(registration, workers);
      setInterval(() => void registration.update().catch(() => undefined), EVERY_MS);
    } catch {
      // saved by nobody: the program works as before, and tries again at the next visit
    }
  }

  /** Takes the newer version: it starts, and this page with it. */
  take(): void {
    this.#taken = true;
    this.#waiting?.postMessage(TAKE_OVER);
  }

  /** Not now; at the next visit it is offered again. */
  putOff(): void {
    this.#later = true;
  }

  #watch(registration: ServiceWorkerRegistration, workers: ServiceWorkerContainer): void {
    const look = (): void => {
      // the very first version takes nothing's place
      if (registration.waiting !== null && workers.controller !== null)
        this.#waiting = registration.waiting;
    };
    look();
    registration.addEventListener('updatefound', () => {
      registration.installing?.addEventListener('statechange', look);
    });
  }
}
